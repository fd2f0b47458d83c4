import { expect, test } from 'vitest';
import type { PeriodRow } from './period.ts';
import { cusum, FALSE_ALARM_EVERY, LIMIT, REFERENCE, standardised } from './loss-test.ts';
import { averageRunLength, normalBelow } from './testing-run-length.ts';

test('the normal distribution is that of the tables', () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1: P(1) = 0.841344746, P(1.96) = 0.975002105, P(3) = 0.998650102.
  expect(normalBelow(1)).toBeCloseTo(0.841344746, 9);
  expect(normalBelow(1.96)).toBeCloseTo(0.975002105, 9);
  expect(normalBelow(-3)).toBeCloseTo(1 - 0.998650102, 9);
  expect(normalBelow(5)).toBeCloseTo(1, 6);
});

/*
 * Run lengths of the two-sided test with reference 0.5, as tabulated in Lucas and Crosier, Technometrics 24 (1982), table 1, and in textbooks
 * of statistical quality control since. The figures here are from memory. Of two one-sided tests at once: 1/L = 1/L+ + 1/L-.
 */
const PUBLISHED: [number, number, number][] = [
  [4, 0, 168],
  [4, 0.5, 26.6],
  [4, 1, 8.38],
  [4, 2, 3.34],
  [5, 0, 465],
  [5, 0.5, 38.0],
  [5, 1, 10.4],
  [5, 2, 4.01],
];
test.each(PUBLISHED)('limit %d, a shift of %d: a run of %d', (limit, shift, published) => {
  const [up, down] = [averageRunLength(0.5, limit, shift), averageRunLength(0.5, limit, -shift)];
  expect(Math.abs(1 / (1 / up + 1 / down) / published - 1)).toBeLessThan(0.006);
});

test('the rate of false alarms that is told is the one of this reference and limit', () => {
  expect(Math.round(averageRunLength(REFERENCE, LIMIT, 0) / 10) * 10).toBe(FALSE_ALARM_EVERY);
});

// Sums by hand: 0.8 - 0.5 = 0.3; + 1.9 - 0.5 = 1.7; + 1.4 - 0.5 = 2.6; + 2.0 - 0.5 = 4.1; + 1.1 - 0.5 = 4.7; + 0.7 - 0.5 = 4.9; + 2.6 - 0.5 = 7.0.
// Lucas and Crosier, table 5: the same seven values and sums, with the alarm at the seventh.
test('the sum of a published example, value by value', () => {
  const values = [0.8, 1.9, 1.4, 2.0, 1.1, 0.7, 2.6];
  const sums = [0.3, 1.7, 2.6, 4.1, 4.7, 4.9, 7.0];
  sums.forEach((sum, index) => {
    const state = cusum(values.slice(0, index + 1));
    expect(state.sum).toBeCloseTo(sum, 9);
    expect(state).toMatchObject({ since: 0, alarm: index === 6 });
  });
});

test('a gain takes the sum back to zero and no further', () => {
  expect(cusum([3, -9])).toEqual({ sum: 0, since: null, alarm: false });
  expect(cusum([3, -9, 1])).toMatchObject({ sum: 0.5, since: 2 });
});

test('masses without anything in common are divided by their own uncertainty', () => {
  const rows: PeriodRow[] = [
    { unaccountedMg: 30, errors: { a: 3, b: 4 } },
    { unaccountedMg: -26, errors: { c: 5, d: 12 } },
  ];
  expect(standardised(rows)).toEqual([6, -2]);
});

/*
 * By hand: sources a and b of 1 mg each. First m1 = a, then m2 = b - a: the covariance is [[1, -1], [-1, 2]], whose Cholesky factor is [[1, 0], [-1, 1]].
 * With m1 = 2 and m2 = -2 the second says nothing new: z2 = (m2 + z1) / 1 = 0.
 */
test('a weighing that closes one period and opens the next is not counted twice', () => {
  const rows: PeriodRow[] = [
    { unaccountedMg: 2, errors: { a: 1 } },
    { unaccountedMg: -2, errors: { b: 1, a: -1 } },
  ];
  expect(standardised(rows)).toEqual([2, 0]);
});

test('a count that has no error of its own says nothing new', () => {
  const row = { unaccountedMg: 4, errors: { a: 2 } };
  expect(standardised([row, row])).toEqual([2, 0]);
});
