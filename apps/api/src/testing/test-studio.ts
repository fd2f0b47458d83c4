import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { LightMyRequestResponse } from 'fastify';
import { testDatabase } from '../../../../infra/test-database.ts';
import type { TestDatabase } from '../../../../infra/test-database.ts';
import { buildApp } from '../app.ts';
import { createStudio } from '../capabilities/people/service.ts';
import { readConfig } from '../config.ts';
import { newId } from '../ids.ts';

export type App = Awaited<ReturnType<typeof buildApp>>;
export type Answer = LightMyRequestResponse;
export type Role = 'owner' | 'manager' | 'instructor' | 'assistant';
export const PASSWORD = 'marble otter violin lantern';

/** Sends requests with one person's cookie. Every write gets an Idempotency-Key of its own unless one is given. */
export type Caller = {
  cookie: string;
  get(url: string): Promise<Answer>;
  post(url: string, body: object, key?: string): Promise<Answer>;
  put(url: string, body: object, key?: string): Promise<Answer>;
};
export function callerOn(app: App, cookie: string): Caller {
  // Async, so that it is sent when called: inject itself waits until somebody awaits it.
  const send =
    (method: 'POST' | 'PUT') =>
    async (url: string, payload: object, key: string = randomUUID()) =>
      app.inject({ method, url, payload, headers: { cookie, 'idempotency-key': key } });
  return { cookie, get: async (url) => app.inject({ method: 'GET', url, headers: { cookie } }), post: send('POST'), put: send('PUT') };
}

export type People = {
  studioId: string;
  /** Account ids by role. */
  ids: Record<Role, string>;
  /** Signed-in people by role; `nobody` has no cookie. */
  as: Record<Role | 'nobody', Caller>;
};
export type TestStudio = People & {
  app: App;
  database: TestDatabase;
  /** The database's superuser, past row policies and grants: to look, and to tamper. */
  admin: pg.Client;
  close(): Promise<void>;
};

/** Signs in and gives the cookie as a browser would send it back. */
export async function signInOn(app: App, email: string, password: string = PASSWORD): Promise<string> {
  const signedIn = await app.inject({ method: 'POST', url: '/api/sign-in', payload: { email, password } });
  if (signedIn.statusCode !== 200) throw new Error(signedIn.body);
  return String(signedIn.headers['set-cookie']).split(';')[0]!;
}

/** One more studio on a service, with one signed-in person of each role; `domain` keeps its addresses apart from another studio's. */
export async function studioOn(app: App, options: { studioName: string; domain: string; personName?: string }): Promise<People> {
  const name = options.personName ?? 'Ada';
  const person = {
    studioName: options.studioName,
    timeZone: 'Europe/Lisbon',
    emergencyPhone: '112',
    name: `${name} owner`,
    email: `owner@${options.domain}`,
    password: PASSWORD,
  };
  const { cookie } = await createStudio({ db: app.db, now: app.clock() }, { ...person, isDemo: false });
  const owner = callerOn(app, `ashwater_session=${cookie}`);
  const ids = { owner: (await owner.get('/api/me')).json<{ id: string }>().id } as Record<Role, string>;
  const as = { owner, nobody: callerOn(app, '') } as People['as'];
  for (const role of ['manager', 'instructor', 'assistant'] as const) {
    ids[role] = newId();
    const email = `${role}@${options.domain}`;
    const added = await owner.post('/api/people', { id: ids[role], name: `${name} ${role}`, email, role, password: PASSWORD });
    if (added.statusCode !== 200) throw new Error(added.body);
    as[role] = callerOn(app, await signInOn(app, email));
  }
  return { studioId: cookie.split('.')[0]!, ids, as };
}

/** A service over a database of its own, with one studio and one signed-in person of each role. Call `close` afterwards. */
export async function testStudio(options: { clock?: () => Date; studioName?: string; anchorFile?: string } = {}): Promise<TestStudio> {
  const database = await testDatabase();
  const app = await buildApp(
    readConfig({ DATABASE_APP_URL: database.appUrl, LOG_LEVEL: 'silent', SETUP_CODE: 'SETUP', ANCHOR_FILE: options.anchorFile }),
    options.clock,
  );
  await app.ready();
  const people = await studioOn(app, { studioName: options.studioName ?? 'Heron Lane Studio', domain: 'example.org' });
  const admin = new pg.Client({ connectionString: database.adminUrl });
  admin.on('error', () => {});
  await admin.connect();
  const close = async () => {
    await admin.end();
    await app.close();
    await database.drop();
  };
  return { app, database, ...people, admin, close };
}
