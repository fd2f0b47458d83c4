import { expect, test } from 'vitest';
import { dayAfter, startOfDay } from './days.ts';

// Clock changes of 2026 by the IANA time zone database: Lisbon 29 March 01:00 UTC, New York 8 March 07:00 UTC.
test.each([
  ['2026-11-27', 'UTC', '2026-11-27T00:00:00.000Z'],
  ['2026-01-15', 'Europe/Lisbon', '2026-01-15T00:00:00.000Z'],
  ['2026-03-29', 'Europe/Lisbon', '2026-03-29T00:00:00.000Z'],
  ['2026-03-30', 'Europe/Lisbon', '2026-03-29T23:00:00.000Z'],
  ['2026-03-08', 'America/New_York', '2026-03-08T05:00:00.000Z'],
  ['2026-03-09', 'America/New_York', '2026-03-09T04:00:00.000Z'],
  ['2026-11-01', 'America/New_York', '2026-11-01T04:00:00.000Z'],
  ['2026-06-01', 'Asia/Kathmandu', '2026-05-31T18:15:00.000Z'],
])('%s begins in %s at %s', (day, zone, instant) => {
  expect(startOfDay(day, zone).toISOString()).toBe(instant);
});

test('the day after the last of a month and of a year', () => {
  expect([dayAfter('2026-02-28'), dayAfter('2028-02-28'), dayAfter('2026-12-31')]).toEqual(['2026-03-01', '2028-02-29', '2027-01-01']);
});
