import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../ids.ts';
import { buildApp } from '../app.ts';
import { readConfig } from '../config.ts';
import { describedRoutes } from '../testing/every-route.ts';
import { rowCounts } from '../testing/refusals.ts';
import { testStudio } from '../testing/test-studio.ts';
import type { App, TestStudio } from '../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());
const write = (headers: Record<string, string>, app: App = studio.app) =>
  app.inject({
    method: 'POST',
    url: '/api/notes',
    payload: { id: newId(), kind: 'near miss', classId: null, place: '', stepTitle: '', what: 'x', whatStoppedIt: '', doneAtOnce: '' },
    headers: { cookie: studio.as.owner.cookie, 'idempotency-key': newId(), host: 'studio.example', ...headers },
  });

test.each([
  ['another site', { 'sec-fetch-site': 'cross-site' }],
  ['a sister site', { 'sec-fetch-site': 'same-site' }],
  ['another site that claims our origin too', { 'sec-fetch-site': 'cross-site', origin: 'http://studio.example' }],
  ['another origin', { origin: 'http://evil.example' }],
  ['no origin (a sandboxed frame)', { origin: 'null' }],
  ['our host by another scheme', { origin: 'https://studio.example' }],
  ['our host at another port', { origin: 'http://studio.example:8080' }],
  ['a longer host', { origin: 'http://studio.example.evil.example' }],
])('a write from %s is refused, with a good cookie and all', async (_from, headers: Record<string, string>) => {
  const before = await rowCounts(studio.admin);
  const answer = await write(headers);
  expect([answer.statusCode, answer.json<{ code: string }>().code]).toEqual([403, 'cross-site']);
  expect(await rowCounts(studio.admin)).toEqual(before);
});

test.each([
  ['our own page', { 'sec-fetch-site': 'same-origin' }],
  ['the address bar', { 'sec-fetch-site': 'none' }],
  ['our own origin, on plain http', { origin: 'http://studio.example' }],
  ['a program that is no browser', {}],
])('a write from %s is taken', async (_from, headers: Record<string, string>) => {
  expect((await write(headers)).statusCode).toBe(200);
});

test('no write of the description is left out, nor those that need no session', async () => {
  for (const route of describedRoutes(studio.app).filter((each) => each.method !== 'GET')) {
    const url = route.path.replace(/\{stepNo\}/, '1').replace(/\{\w+\}/, newId());
    for (const headers of [{ 'sec-fetch-site': 'cross-site' }, { origin: 'http://evil.example' }] as Record<string, string>[]) {
      const answer = await studio.app.inject({
        method: route.method,
        url,
        payload: {},
        headers: { cookie: studio.as.owner.cookie, host: 'studio.example', ...headers },
      });
      expect([route.path, answer.statusCode, answer.json<{ code: string }>().code]).toEqual([route.path, 403, 'cross-site']);
    }
  }
});

test('reading from anywhere is no write, and answers are not shared with other sites', async () => {
  const answer = await studio.app.inject({
    method: 'GET',
    url: '/api/recipes',
    headers: { cookie: studio.as.owner.cookie, origin: 'http://evil.example', 'sec-fetch-site': 'cross-site' },
  });
  expect(answer.statusCode).toBe(200);
  expect(Object.keys(answer.headers).filter((name) => name.startsWith('access-control-'))).toEqual([]);
  expect(answer.headers).toMatchObject({
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
  });
});

test('behind a proxy the public address counts, not the one the proxy asks', async () => {
  const app = await buildApp(readConfig({ DATABASE_APP_URL: studio.database.appUrl, LOG_LEVEL: 'silent', PUBLIC_ORIGIN: 'http://soap.example/' }));
  try {
    expect((await write({ origin: 'http://soap.example' }, app)).statusCode).toBe(200);
    expect((await write({ origin: 'http://studio.example' }, app)).statusCode).toBe(403);
  } finally {
    await app.close();
  }
});
