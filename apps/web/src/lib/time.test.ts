import { expect, test } from 'vitest';
import { dayAndTime, dayOf, plainDay, timeOf } from './time.ts';

// Offsets of the IANA time zone database: Lisbon is on UTC in winter, Kolkata always 5 h 30 min ahead, Auckland 13 h in its summer.
test.each([
  ['Europe/Lisbon', '5 December 2026, 14:30'],
  ['Asia/Kolkata', '5 December 2026, 20:00'],
  ['Pacific/Auckland', '6 December 2026, 03:30'],
])('an instant in %s is %s', (zone, words) => {
  expect(dayAndTime('2026-12-05T14:30:00Z', zone)).toBe(words);
});

test('midnight is 00:00 and never 24:00', () => {
  expect(timeOf('2026-12-05T00:00:00Z', 'UTC')).toBe('00:00');
});

test('a calendar day stays the day it is, west of Greenwich too', () => {
  expect(plainDay('2026-12-19')).toBe('19 December 2026');
  expect(dayOf('2026-12-19T00:00:00Z', 'America/Lima')).toBe('18 December 2026');
});
