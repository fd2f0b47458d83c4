import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dayIn } from '../../days.ts';
import { discardDay } from './shelf-life.ts';

test('the day is the studio’s own, on either side of midnight', () => {
  expect(dayIn('Europe/Lisbon', new Date('2026-07-10T22:59:59Z'))).toBe('2026-07-10');
  expect(dayIn('Europe/Lisbon', new Date('2026-07-10T23:00:00Z'))).toBe('2026-07-11');
  expect(dayIn('America/Los_Angeles', new Date('2027-01-01T07:59:59Z'))).toBe('2026-12-31');
  expect(dayIn('Pacific/Kiritimati', new Date('2026-12-31T10:00:00Z'))).toBe('2027-01-01');
  expect(dayIn('Asia/Kathmandu', new Date('2026-05-01T18:15:00Z'))).toBe('2026-05-02');
});

test('fourteen days go over a year’s end, a leap day and the change of the clocks', () => {
  expect(discardDay('Europe/Lisbon', new Date('2026-12-20T12:00:00Z'), 14)).toBe('2027-01-03');
  expect(discardDay('Europe/Lisbon', new Date('2028-02-15T12:00:00Z'), 14)).toBe('2028-02-29');
  expect(discardDay('Europe/Lisbon', new Date('2027-02-15T12:00:00Z'), 14)).toBe('2027-03-01');
  // Directive 2000/84/EC: summer time begins on the last Sunday of March (29 March 2026) and ends on the last of October (25 October 2026).
  expect(discardDay('Europe/Berlin', new Date('2026-03-28T23:30:00Z'), 1)).toBe('2026-03-30');
  expect(discardDay('Europe/Berlin', new Date('2026-03-28T22:30:00Z'), 1)).toBe('2026-03-29');
  expect(discardDay('Europe/Berlin', new Date('2026-10-24T22:30:00Z'), 1)).toBe('2026-10-26');
  expect(discardDay('Europe/Berlin', new Date('2026-10-25T23:30:00Z'), 14)).toBe('2026-11-09');
});

/** Julian day number of a Gregorian date: Fliegel and Van Flandern, Communications of the ACM 11 (1968) 657. */
function julianDay(day: string): number {
  const [y, m, d] = day.split('-').map(Number) as [number, number, number];
  const a = Math.trunc((m - 14) / 12);
  return (
    Math.trunc((1461 * (y + 4800 + a)) / 4) + Math.trunc((367 * (m - 2 - 12 * a)) / 12) - Math.trunc((3 * Math.trunc((y + 4900 + a) / 100)) / 4) + d - 32_075
  );
}

test('whatever the zone and the hour, it is so many calendar days after the day of making', () => {
  expect(julianDay('2000-01-01'), 'J2000.0 is JD 2451545').toBe(2_451_545);
  const zones = fc.constantFrom(
    'Europe/Lisbon',
    'Europe/Berlin',
    'America/Sao_Paulo',
    'America/St_Johns',
    'Australia/Lord_Howe',
    'Africa/Casablanca',
    'Pacific/Auckland',
    'UTC',
  );
  const when = fc.date({ min: new Date('2020-01-01T00:00:00Z'), max: new Date('2060-01-01T00:00:00Z'), noInvalidDate: true });
  fc.assert(
    fc.property(zones, when, fc.integer({ min: 0, max: 400 }), (zone, at, days) => {
      expect(julianDay(discardDay(zone, at, days)) - julianDay(dayIn(zone, at))).toBe(days);
    }),
  );
});
