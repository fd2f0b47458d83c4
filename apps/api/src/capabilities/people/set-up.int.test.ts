import { afterAll, beforeAll, expect, test } from 'vitest';
import { testDatabase } from '../../../../../infra/test-database.ts';
import type { TestDatabase } from '../../../../../infra/test-database.ts';
import pg from 'pg';
import { buildApp } from '../../app.ts';
import { readConfig } from '../../config.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { callerOn } from '../../testing/test-studio.ts';
import type { App } from '../../testing/test-studio.ts';

let database: TestDatabase;
let admin: pg.Client;
let app: App;
beforeAll(async () => {
  database = await testDatabase();
  admin = new pg.Client({ connectionString: database.adminUrl });
  await admin.connect();
  app = await buildApp(readConfig({ DATABASE_APP_URL: database.appUrl, LOG_LEVEL: 'silent', SETUP_CODE: 'QX7-3KD' }));
});
afterAll(async () => {
  await app.close();
  await admin.end();
  await database.drop();
});
const form = {
  code: 'qx7-3kd ',
  studioName: 'Fern Hollow',
  timeZone: 'Europe/Lisbon',
  emergencyPhone: '112',
  name: 'Ines',
  email: 'ines@example.org',
  password: 'four quiet green kettles',
};
let tries = 0;
const setUp = async (change: object = {}) =>
  app.inject({ method: 'POST', url: '/api/setup', payload: { ...form, ...change }, remoteAddress: `198.51.100.${(tries += 1)}` });

test('without the console’s code nothing is set up', async () => {
  expect((await callerOn(app, '').get('/api/setup')).json()).toEqual({ needed: true });
  for (const code of ['', 'QX7', 'QX7-3KE', ' ']) await expectRefused(admin, () => setUp({ code }), { status: 403, code: 'setup-refused', pointer: '/code' });
  const noCode = await buildApp(readConfig({ DATABASE_APP_URL: database.appUrl, LOG_LEVEL: 'silent' }));
  try {
    for (const code of ['', 'undefined'])
      await expectRefused(admin, async () => noCode.inject({ method: 'POST', url: '/api/setup', payload: { ...form, code } }), {
        status: 403,
        code: 'setup-refused',
      });
  } finally {
    await noCode.close();
  }
});

test('guessing the code is slowed down', async () => {
  const statuses = [];
  for (let n = 0; n < 11; n += 1)
    statuses.push((await app.inject({ method: 'POST', url: '/api/setup', payload: { ...form, code: String(n) }, remoteAddress: '203.0.113.1' })).statusCode);
  expect(statuses).toEqual([...Array.from({ length: 10 }, () => 403), 429]);
});

test('a form that is not right is refused at its field and leaves the set-up open', async () => {
  const refused = { status: 422, code: 'input-refused' };
  await expectRefused(admin, () => setUp({ password: 'abcdefghijklmn' }), { ...refused, pointer: '/password' });
  await expectRefused(admin, () => setUp({ timeZone: 'Moon/Crater' }), { ...refused, pointer: '/timeZone' });
  await expectRefused(admin, () => setUp({ timeZone: '' }), { ...refused, pointer: '/timeZone' });
  await expectRefused(admin, () => setUp({ emergencyPhone: ' ' }), { ...refused, pointer: '/emergencyPhone' });
  await expectRefused(admin, () => setUp({ email: 'ines' }), { ...refused, pointer: '/email' });
  expect((await callerOn(app, '').get('/api/setup')).json()).toEqual({ needed: true });
});

test('of two who set up at the same moment one becomes the owner; after that it is closed', async () => {
  const both = await Promise.all([
    setUp(),
    setUp({ studioName: 'Other House', email: 'other@example.org' }),
    setUp({ studioName: 'Third House', email: 'third@example.org' }),
  ]);
  expect(both.map((answer) => answer.statusCode).sort()).toEqual([200, 409, 409]);
  expect((await admin.query('SELECT 1 FROM studio')).rowCount).toBe(1);
  expect((await callerOn(app, '').get('/api/setup')).json()).toEqual({ needed: false });
  await expectRefused(admin, () => setUp({ studioName: 'Late House', email: 'late@example.org' }), { status: 409, code: 'already-set-up' });
  const winner = both.find((answer) => answer.statusCode === 200)!;
  expect((await callerOn(app, String(winner.headers['set-cookie']).split(';')[0]!).get('/api/me')).json()).toMatchObject({ kind: 'staff', role: 'owner' });
});
