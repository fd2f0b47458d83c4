import { expect, test } from 'vitest';
import type { AccuracyClass } from './scale-class.ts';
import { inServiceLimitMg, verificationLimitMg } from './scale-class.ts';

test.each<[AccuracyClass, number, number]>([
  // OIML R 76-1:2006 Table 6, limits at verification in e (read in a reprint of the table).
  ['I', 50_000, 0.5],
  ['I', 50_001, 1],
  ['I', 200_000, 1],
  ['I', 200_001, 1.5],
  ['II', 5000, 0.5],
  ['II', 5001, 1],
  ['II', 20_000, 1],
  ['II', 20_001, 1.5],
  ['II', 100_000, 1.5],
  ['III', 500, 0.5],
  ['III', 501, 1],
  ['III', 2000, 1],
  ['III', 2001, 1.5],
  ['III', 10_000, 1.5],
  ['IIII', 50, 0.5],
  ['IIII', 51, 1],
  ['IIII', 200, 1],
  ['IIII', 201, 1.5],
  ['IIII', 1000, 1.5],
  // NIST Handbook 44, Scales, Table 6, class III, acceptance, in divisions (last two rows read, the others from memory).
  ['HB 44 III', 500, 0.5],
  ['HB 44 III', 501, 1],
  ['HB 44 III', 2000, 1],
  ['HB 44 III', 2001, 1.5],
  ['HB 44 III', 4000, 1.5],
  ['HB 44 III', 4001, 2.5],
])('class %s at %d e: %d e at verification, twice that in service', (accuracyClass, load, limit) => {
  expect(verificationLimitMg(accuracyClass, 200, load * 200)).toBe(limit * 200);
  expect(inServiceLimitMg(accuracyClass, 200, load * 200)).toBe(2 * limit * 200);
});

test('at 5 000 divisions OIML allows 1.5 and Handbook 44 2.5 when new (Mettler-Toledo scale manual, fig. 3-8 and 3-9)', () => {
  expect(verificationLimitMg('III', 1000, 5_000_000)).toBe(1500);
  expect(verificationLimitMg('HB 44 III', 1000, 5_000_000)).toBe(2500);
});

test('Handbook 44 maintenance: 150 lb at e = 0.05 lb is 3 000 divisions and 3 of them; 500 lb is 10 000 and 5 (a worked case, read)', () => {
  expect(inServiceLimitMg('HB 44 III', 50, 150_000)).toBe(150);
  expect(inServiceLimitMg('HB 44 III', 50, 500_000)).toBe(250);
});

test('past the end of its class the limit grows with the load', () => {
  expect(verificationLimitMg('IIII', 1000, 2_000_000)).toBe(3000);
  expect(verificationLimitMg('HB 44 III', 1000, 20_000_000)).toBe(5000);
});

test.each([
  [NaN, 1000],
  [1000, NaN],
  [Infinity, 1000],
  [1000, Infinity],
  [0, 1000],
  [-1, 1000],
])('of an interval of %d mg at %d mg nothing is known: no limit', (intervalMg, massMg) => {
  expect(verificationLimitMg('III', intervalMg, massMg)).toBe(Infinity);
  expect(inServiceLimitMg('HB 44 III', intervalMg, massMg)).toBe(Infinity);
});

test('a load below zero, as when a vessel is lifted off, counts by its size', () => {
  expect(verificationLimitMg('III', 1000, -600_000)).toBe(1000);
});
