import { expect, test } from 'vitest';
import { answerNavigation, isStationPage } from './navigation.ts';

const AWAY = 'https://studio.example/station-away';
const never = new Promise<Response>(() => undefined);

test('station pages only, and not the page without network itself', () => {
  expect(['/station', '/station/step/3', '/station/note'].every(isStationPage)).toBe(true);
  expect(['/station-away', '/stations', '/studio/stations', '/class/1/floor', '/'].some(isStationPage)).toBe(false);
});

test.each([200, 303, 404, 500])('an answer of the service is passed on as it is: %i', async (status) => {
  const page = new Response(null, { status });
  expect(await answerNavigation(Promise.resolve(page), AWAY)).toBe(page);
});

test('no network, no answer in time, or a proxy without its service, leads to the page without network', async () => {
  const ways = [
    answerNavigation(Promise.reject(new TypeError('no network')), AWAY),
    answerNavigation(never, AWAY, 5),
    ...[502, 503, 504].map((status) => answerNavigation(Promise.resolve(new Response('', { status })), AWAY)),
  ];
  for (const answer of await Promise.all(ways)) expect([answer.status, answer.headers.get('location')]).toEqual([303, AWAY]);
});
