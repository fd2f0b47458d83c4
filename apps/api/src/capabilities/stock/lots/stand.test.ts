import { expect, test } from 'vitest';
import { daysBetween } from '../../../days.ts';
import { sheetStand } from '../papers/sheet-age.ts';
import { decimalsOf, expiryOf, limitWords } from './stand.ts';

test('days are counted on the calendar, over leap days and changes of the clocks', () => {
  expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
  expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2);
  expect(daysBetween('2026-10-26', '2026-10-24')).toBe(-2);
});

test('a lot is told of from sixty days before its best-before day, and past it from the day after', () => {
  expect(expiryOf(null, '2026-11-27')).toEqual({ stand: 'none', words: '' });
  expect(expiryOf('2027-01-27', '2026-11-27').stand).toBe('in date');
  expect(expiryOf('2027-01-26', '2026-11-27')).toMatchObject({ stand: 'soon', words: 'Best before 2027-01-26, in 60 days.' });
  expect(expiryOf('2026-11-27', '2026-11-27').stand).toBe('soon');
  expect(expiryOf('2026-11-26', '2026-11-27')).toMatchObject({ stand: 'past', words: expect.stringContaining('one day ago') });
});

test('a sheet is old from the day after the studio’s limit', () => {
  expect(sheetStand('2025-11-27', '2026-11-27', 365).stand).toBe('in date');
  expect(sheetStand('2025-11-26', '2026-11-27', 365)).toMatchObject({ stand: 'old', words: expect.stringContaining('366 days ago') });
  expect(sheetStand(null, '2026-11-27', 365).stand).toBe('date unknown');
});

test('the storage limit speaks above it, not at it', () => {
  expect(limitWords(25_000_000, 25_000_000)).toBe('');
  expect(limitWords(25_000_001, 25_000_000)).toMatch(/, 0\.001\sg over its storage limit of 25\s000\sg\./);
});

test('a currency brings its own decimals', () => {
  expect(['EUR', 'JPY', 'KWD'].map(decimalsOf)).toEqual([2, 0, 3]);
});
