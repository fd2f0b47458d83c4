import { expect, test } from 'vitest';
import { polynomial, whereRisingReaches } from './polynomial.ts';

test('coefficients are listed lowest power first: 2 + 3x + 5x^2 at 10 is 532', () => {
  expect(polynomial([2, 3, 5], 10)).toBe(532);
});

test('the root of x^3 = 2 (Delian constant 1.2599210498948732)', () => {
  expect(whereRisingReaches((x) => x ** 3, 2, 0, 2)).toBeCloseTo(1.2599210498948732, 12);
});

test('a target outside the bracket gives the nearer end', () => {
  expect(whereRisingReaches((x) => x, 9, 0, 1)).toBeCloseTo(1, 9);
  expect(whereRisingReaches((x) => x, -9, 0, 1)).toBeCloseTo(0, 9);
});
