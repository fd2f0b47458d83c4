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

test.each([NaN, Infinity])('of a step or a reading of %d nothing is known: no limit', (bad) => {
  expect(errorLimitMg(bad, 1000)).toBe(Infinity);
  expect(errorLimitMg({ stepMg: bad }, 1000)).toBe(Infinity);
  expect(errorLimitMg(1000, bad)).toBe(Infinity);
  expect(errorLimitMg({ stepMg: 1000, checkWeighings: [{ knownMg: bad, shownMg: 1000 }] }, 500)).toBe(Infinity);
});

test('check weighings are believed before any class, and an empty list is none', () => {
  const scale = { stepMg: 100, accuracyClass: 'IIII' } as const;
  // By hand: off by 300, half a step 50, the known mass 10; the display hides 50 more.
  expect(errorLimitMg({ ...scale, checkWeighings: [{ knownMg: 500_000, shownMg: 500_300, knownLimitMg: 10 }] }, 400_000)).toBe(410);
  expect(errorLimitMg({ ...scale, checkWeighings: [] }, 1000)).toBe(errorLimitMg(scale, 1000));
});

test('the verification interval counts where it is stated: e = 1 g on a step of 0.1 g, 300 e, in service 1 e (OIML R 76-1)', () => {
  expect(errorLimitMg({ stepMg: 100, verificationIntervalMg: 1000, accuracyClass: 'III' }, 300_000)).toBe(1050);
});
