import { fc, test as property } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { polynomial, whereRisingReaches } from './polynomial.ts';

test('coefficients are listed lowest power first: 2 + 3x + 5x^2 at 10 is 532', () => {
  expect(polynomial([2, 3, 5], 10)).toBe(532);
  expect(polynomial([7], 10)).toBe(7);
  expect(polynomial([], 10)).toBe(0);
});

test('the root of x^3 = 2 (Delian constant 1.2599210498948732)', () => {
  expect(whereRisingReaches((x) => x ** 3, 2, 0, 2)).toBeCloseTo(1.2599210498948732, 12);
});

test('the omega constant, x e^x = 1: 0.5671432904097838 (OEIS A030178)', () => {
  expect(whereRisingReaches((x) => x * Math.exp(x), 1, 0, 5)).toBeCloseTo(0.5671432904097838, 11);
});

test('a target outside the bracket gives the nearer end, and one at an end that end', () => {
  expect(whereRisingReaches((x) => x, 9, 0, 1)).toBeCloseTo(1, 11);
  expect(whereRisingReaches((x) => x, -9, 0, 1)).toBeCloseTo(0, 11);
  expect(whereRisingReaches((x) => x, 1, 0, 1)).toBeCloseTo(1, 11);
  expect(whereRisingReaches((x) => x, 0, 0, 1)).toBeCloseTo(0, 11);
});

test('a step has no place where it is reached, but the bracket closes around it', () => {
  expect(whereRisingReaches((x) => (x < 0.3 ? -1 : 1), 0, 0, 1)).toBeCloseTo(0.3, 9);
});

test('a curve that goes wild at an end, as fits do outside their data, is met all the same', () => {
  expect(whereRisingReaches((x) => (x < 0.001 ? 50 : x), 0.25, 0, 1)).toBeCloseTo(0.25, 11);
  expect(whereRisingReaches((x) => (x > 0.999 ? -50 : x), 0.25, 0, 1)).toBeCloseTo(0.25, 11);
});

test('it needs few looks: at most 20 for a smooth curve, where halving takes 50', () => {
  let looks = 0;
  whereRisingReaches((x) => ((looks += 1), Math.exp(x / 20)), 50, -20, 250);
  expect(looks).toBeLessThanOrEqual(20);
});

const curves = fc.record({
  a: fc.double({ min: 0.01, max: 10, noNaN: true }),
  b: fc.double({ min: 0, max: 1, noNaN: true }),
  at: fc.double({ min: -19, max: 249, noNaN: true }),
});

property.prop([curves], { numRuns: 2000 })('a curve that rises as heat does is met within a billionth of the bracket', ({ a, b, at }) => {
  const rising = (t: number): number => a * t + b * t * t * (t < 0 ? -0.01 : 0.01) + (t > 25 ? b * (t - 25) : 0);
  expect(Math.abs(whereRisingReaches(rising, rising(at), -20, 250) - at)).toBeLessThan(3e-7);
});
