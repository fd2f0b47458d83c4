import type { PeriodRow } from './period.ts';

/*
 * A running test for losses that a single count is too coarse to see: Page's CUSUM (E. S. Page, Biometrika 41, 1954) on the
 * unaccounted masses of successive counts, made independent and standardised first. One scale leans the same way in every period, and
 * a closing weighing opens the next period, so the masses themselves are correlated.
 */

/** Reference value and decision limit, in standard deviations: made for a loss of about one standard deviation at every count. */
export const REFERENCE = 0.5;
export const LIMIT = 5;
/** Average number of counts from one false alarm to the next where nothing is lost (one-sided; held by a test against the run lengths). */
export const FALSE_ALARM_EVERY = 930;

const covariance = (a: PeriodRow, b: PeriodRow): number => Object.entries(a.errors).reduce((sum, [key, mg]) => sum + mg * (b.errors[key] ?? 0), 0);

/**
 * The unaccounted masses in order, as independent values of standard deviation 1 where nothing is lost: z = L⁻¹ m, with the
 * covariance of all of them L Lᵀ (Cholesky). Each is what the newest count says beyond what the ones before it led to expect.
 */
export function standardised(rows: readonly PeriodRow[]): number[] {
  const factor: number[][] = [];
  const z: number[] = [];
  rows.forEach((row, i) => {
    const line: number[] = [];
    for (let j = 0; j < i; j++) {
      const shared = covariance(row, rows[j]!) - line.reduce((sum, value, k) => sum + value * (factor[j]![k] ?? 0), 0);
      line.push(factor[j]![j]! > 0 ? shared / factor[j]![j]! : 0);
    }
    const own = covariance(row, row);
    const left = own - line.reduce((sum, value) => sum + value ** 2, 0);
    // Nothing of its own left: it says nothing that the counts before it did not say.
    const pivot = left > own * 1e-12 ? Math.sqrt(left) : 0;
    const beyond = row.unaccountedMg - line.reduce((sum, value, k) => sum + value * z[k]!, 0);
    z.push(pivot > 0 ? beyond / pivot : 0);
    factor.push([...line, pivot]);
  });
  return z;
}

/** `sum` is the running sum after the last value; `since` the place of the first value it has been above zero from, null when it is zero. */
export type LossTest = { sum: number; since: number | null; alarm: boolean };

export function cusum(values: readonly number[]): LossTest {
  let sum = 0;
  let since: number | null = null;
  values.forEach((value, index) => {
    sum = Math.max(0, sum + value - REFERENCE);
    if (sum === 0) since = null;
    else since ??= index;
  });
  return { sum, since, alarm: sum > LIMIT };
}
