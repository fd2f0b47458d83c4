import { expect, test } from 'vitest';
import { calibrationLimitMg, errorLimitMg, roundingUncertaintyMg } from './scale-error.ts';

test('class III at 5000 divisions: twice the 1.5 divisions allowed at verification (Mettler-Toledo scale manual, fig. 3-8, OIML)', () => {
  expect(calibrationLimitMg(1000, 5_000_000)).toBe(2 * 1.5 * 1000);
});

test.each([
  // OIML R 76-1:2006 Table 6, class III, limits in service (from memory).
  [500, 1],
  [501, 2],
  [2000, 2],
  [2001, 3],
  [10_000, 3],
  [20_000, 6],
])('at %d divisions the limit in service is %d divisions', (divisions, limit) => {
  expect(calibrationLimitMg(100, divisions * 100)).toBe(limit * 100);
});

test('a reading adds half a step for rounding', () => {
  expect(errorLimitMg(1000, 131_000)).toBe(1500);
});

test('rounding to a step d has the standard uncertainty 0.29 d (JCGM 100, F.2.2.1)', () => {
  expect(roundingUncertaintyMg(1000) / 1000).toBeCloseTo(0.29, 2);
});
