import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { LightMyRequestResponse } from 'fastify';
import { testDatabase } from '../../../../infra/test-database.ts';
import type { TestDatabase } from '../../../../infra/test-database.ts';
import { buildApp } from '../app.ts';
import { createStudio } from '../capabilities/people/service.ts';
import { readConfig } from '../config.ts';
import { newId } from '../ids.ts';

type App = Awaited<ReturnType<typeof buildApp>>;
export type Role = 'owner' | 'manager' | 'instructor' | 'assistant';
const PASSWORD = 'marble otter violin lantern';

/** Sends requests with one person's cookie. Every write gets an Idempotency-Key of its own unless one is given. */
export type Caller = {
  cookie: string;
  get(url: string): Promise<LightMyRequestResponse>;
  post(url: string, body: object, key?: string): Promise<LightMyRequestResponse>;
  put(url: string, body: object, key?: string): Promise<LightMyRequestResponse>;
};
export function callerOn(app: App, cookie: string): Caller {
  const send = (method: 'POST' | 'PUT') => (url: string, payload: object, key: string = randomUUID()) =>
    app.inject({ method, url, payload, headers: { cookie, 'idempotency-key': key } });
  return { cookie, get: (url) => app.inject({ method: 'GET', url, headers: { cookie } }), post: send('POST'), put: send('PUT') };
}

export type TestStudio = {
  app: App;
  database: TestDatabase;
  studioId: string;
  /** Account ids by role. */
  ids: Record<Role, string>;
  /** Signed-in people by role; `nobody` has no cookie. */
  as: Record<Role | 'nobody', Caller>;
  /** The database's superuser, past row policies and grants: to look, and to tamper. */
  admin: pg.Client;
  close(): Promise<void>;
};

/** A service over a database of its own, with one studio and one signed-in person of each role. Call `close` afterwards. */
export async function testStudio(options: { clock?: () => Date; studioName?: string } = {}): Promise<TestStudio> {
  const database = await testDatabase();
  const app = await buildApp(readConfig({ DATABASE_APP_URL: database.appUrl, LOG_LEVEL: 'silent', SETUP_CODE: 'SETUP' }), options.clock);
  await app.ready();
  const person = { studioName: options.studioName ?? 'Heron Lane Studio', timeZone: 'Europe/Lisbon', emergencyPhone: '112', name: 'Olive Owner', email: 'owner@example.org', password: PASSWORD };
  const { cookie } = await createStudio({ db: app.db, now: new Date() }, { ...person, isDemo: false });
  const owner = callerOn(app, `ashwater_session=${cookie}`);
  const admin = new pg.Client({ connectionString: database.adminUrl });
  admin.on('error', () => {});
  await admin.connect();

  const ids = { owner: (await owner.get('/api/me')).json<{ id: string }>().id } as Record<Role, string>;
  const as = { owner, nobody: callerOn(app, '') } as TestStudio['as'];
  for (const role of ['manager', 'instructor', 'assistant'] as const) {
    ids[role] = newId();
    const email = `${role}@example.org`;
    const added = await owner.post('/api/people', { id: ids[role], name: `Ada ${role}`, email, role, password: PASSWORD });
    if (added.statusCode !== 200) throw new Error(added.body);
    const signedIn = await app.inject({ method: 'POST', url: '/api/sign-in', payload: { email, password: PASSWORD } });
    as[role] = callerOn(app, String(signedIn.headers['set-cookie']).split(';')[0]!);
  }
  const close = async () => {
    await admin.end();
    await app.close();
    await database.drop();
  };
  return { app, database, studioId: cookie.split('.')[0]!, ids, as, admin, close };
}
