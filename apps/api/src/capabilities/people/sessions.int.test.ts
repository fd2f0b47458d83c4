import type { Me } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildApp } from '../../app.ts';
import { readConfig } from '../../config.ts';
import { newId } from '../../ids.ts';
import { classroom, takeSeat } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { dump } from '../../testing/dump.ts';
import { callerOn, PASSWORD, signInOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const DAY_MINUTES = 24 * 60;
const clock = handClock();
let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
});
afterAll(() => studio.close());
const statusOf = async (cookie: string) => (await callerOn(studio.app, cookie).get('/api/recipes')).statusCode;

test('neither a cookie nor its secret stands anywhere in the database: who copies it cannot sign in', async () => {
  const seat = await takeSeat(studio, (await classroom(studio)).benches[0]!);
  const rows = await dump(studio.admin);
  for (const cookie of [...Object.values(studio.as).map((caller) => caller.cookie), seat.by.cookie].filter((each) => each !== '')) {
    const value = cookie.slice(cookie.indexOf('=') + 1);
    const secret = value.split('.')[1]!;
    expect(secret).toMatch(/^[\w-]{43}$/); // 256 bits in base64url (RFC 4648, 5)
    expect(rows.filter((row) => row.includes(value) || row.includes(secret))).toEqual([]);
  }
  // and what does stand there opens nothing
  const stored = await studio.admin.query<{ id: string }>('SELECT id FROM session UNION SELECT token_hash FROM seat');
  for (const { id } of stored.rows) for (const value of [id, id.slice(0, 43)]) expect(await statusOf(`ashwater_session=${studio.studioId}.${value}`)).toBe(401);
});

test('signing out ends the session at once, and only that one', async () => {
  const [here, there] = [await signInOn(studio.app, 'manager@example.org'), await signInOn(studio.app, 'manager@example.org')];
  const left = await callerOn(studio.app, here).post('/api/sign-out', {});
  expect(String(left.headers['set-cookie'])).toMatch(/ashwater_session=;.*(Max-Age=0|Expires=Thu, 01 Jan 1970)/);
  expect([await statusOf(here), await statusOf(there)]).toEqual([401, 200]);
});

test('a disabled person is out at once', async () => {
  const cookie = await signInOn(studio.app, 'assistant@example.org');
  await studio.admin.query(`UPDATE account SET disabled_at = now() WHERE email = 'assistant@example.org'`);
  expect(await statusOf(cookie)).toBe(401);
  await studio.admin.query(`UPDATE account SET disabled_at = NULL WHERE email = 'assistant@example.org'`);
  expect(await statusOf(cookie), 'and has to sign in anew').toBe(401);
});

test('a role that changed counts from the next request', async () => {
  const cookie = await signInOn(studio.app, 'assistant@example.org');
  const caller = callerOn(studio.app, cookie);
  expect((await caller.get('/api/people')).statusCode).toBe(403);
  await studio.admin.query(`UPDATE account SET role = 'manager' WHERE email = 'assistant@example.org'`);
  expect((await caller.get('/api/people')).statusCode).toBe(200);
  await studio.admin.query(`UPDATE account SET role = 'assistant' WHERE email = 'assistant@example.org'`);
});

test('a session that lies idle for seven days is over', async () => {
  const cookie = await signInOn(studio.app, 'instructor@example.org');
  const { rows } = await studio.admin.query<{ idle: number }>(`SELECT extract(epoch FROM max(expires_at) - now()) / 86400 AS idle FROM session`);
  expect(Number(rows[0]!.idle)).toBeCloseTo(7, 1);
  await studio.admin.query(`UPDATE session SET expires_at = now() - interval '1 second'`);
  expect(await statusOf(cookie)).toBe(401);
});

test('thirty days after signing in a session ends, however busy it was', async () => {
  const cookie = await signInOn(studio.app, 'instructor@example.org');
  for (let day = 0; day < 29; day += 1) {
    clock.forward(DAY_MINUTES);
    expect([day, await statusOf(cookie)]).toEqual([day, 200]);
  }
  clock.forward(DAY_MINUTES - 1);
  expect(await statusOf(cookie)).toBe(200);
  clock.forward(1);
  expect(await statusOf(cookie)).toBe(401);
  clock.forward(-DAY_MINUTES);
  expect(await statusOf(cookie), 'a clock set back does not bring it to life').toBe(401);
});

test('a cookie laid into the browser before signing in is not the one that is signed in', async () => {
  const laid = `ashwater_session=${studio.studioId}.${'A'.repeat(43)}`;
  const own = await signInOn(studio.app, 'manager@example.org');
  for (const before of [laid, own]) {
    const answer = await studio.app.inject({
      method: 'POST',
      url: '/api/sign-in',
      payload: { email: 'instructor@example.org', password: PASSWORD },
      headers: { cookie: before },
      remoteAddress: '198.51.100.200',
    });
    const given = String(answer.headers['set-cookie']).split(';')[0]!;
    expect(given).not.toBe(before);
    expect((await callerOn(studio.app, given).get('/api/me')).json<Me>()).toMatchObject({ email: 'instructor@example.org' });
  }
  expect(await statusOf(laid)).toBe(401);
});

test('what is no cookie of ours is nobody, and no fault', async () => {
  for (const value of [
    '',
    'x',
    '.',
    `${studio.studioId}.`,
    `${studio.studioId}.${'A'.repeat(44)}`,
    `${newId()}.${'A'.repeat(43)}`,
    `-------------------------------------.${'A'.repeat(43)}`,
    `${'-'.repeat(36)}.${'A'.repeat(43)}`,
    `${'0'.repeat(36)}.${'A'.repeat(43)}`,
  ])
    expect([value, (await callerOn(studio.app, `ashwater_session=${value}`).get('/api/recipes')).statusCode]).toEqual([value, 401]);
});

test('cookies are HttpOnly, Lax and for the whole site; over https also Secure and bound to the host', async () => {
  const answer = await studio.app.inject({
    method: 'POST',
    url: '/api/sign-in',
    payload: { email: 'owner@example.org', password: PASSWORD },
    remoteAddress: '198.51.100.201',
  });
  expect(String(answer.headers['set-cookie'])).toMatch(/^ashwater_session=[^;]+; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Lax$/);
  const secure = await buildApp(readConfig({ DATABASE_APP_URL: studio.database.appUrl, LOG_LEVEL: 'silent', PUBLIC_ORIGIN: 'https://studio.example' }));
  try {
    const signedIn = await secure.inject({ method: 'POST', url: '/api/sign-in', payload: { email: 'owner@example.org', password: PASSWORD } });
    const cookie = String(signedIn.headers['set-cookie']);
    // RFC 6265bis, 4.1.3.2: __Host- wants Secure, Path=/ and no Domain
    expect(cookie).toMatch(/^__Host-ashwater_session=[^;]+; Max-Age=2592000; Path=\/; HttpOnly; Secure; SameSite=Lax$/);
    expect(signedIn.headers['strict-transport-security']).toMatch(/max-age=31536000/);
    const out = await secure.inject({ method: 'POST', url: '/api/sign-out', payload: {}, headers: { cookie: cookie.split(';')[0]! } });
    expect(String(out.headers['set-cookie'])).toMatch(/^__Host-ashwater_session=;.*Secure/);
  } finally {
    await secure.close();
  }
});
