/*
 * For tests only. Average run length of a one-sided CUSUM of normal values as a Markov chain over its sum (D. Brook, D. A. Evans,
 * Biometrika 59, 1972): `cells` states of equal width between zero and the limit, zero itself in the first.
 */
const erf = (x: number): number => {
  // Maclaurin series for small x, continued fraction for large: both to the last digits of a double.
  if (x < 0) return -erf(-x);
  if (x > 3) {
    let fraction = 0;
    for (let n = 60; n > 0; n--) fraction = n / 2 / (x + fraction);
    return 1 - Math.exp(-x * x) / Math.sqrt(Math.PI) / (x + fraction);
  }
  let [term, sum] = [x, x];
  for (let n = 1; n < 100; n++) {
    term *= (-x * x) / n;
    sum += term / (2 * n + 1);
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
};
export const normalBelow = (x: number): number => (1 + erf(x / Math.SQRT2)) / 2;

/** Values it takes on average from a sum of zero until it is above the limit, when each has the mean `shift` and standard deviation 1. */
export function averageRunLength(reference: number, limit: number, shift: number, cells = 200): number {
  const width = (2 * limit) / (2 * cells - 1);
  const below = (from: number, to: number): number => normalBelow((to - from + 0.5) * width + reference - shift);
  const chance = (from: number, to: number): number => (to === 0 ? below(from, 0) : below(from, to) - below(from, to - 1));
  // (I - R) a = 1, by elimination.
  const rows = Array.from({ length: cells }, (_, i) => [...Array.from({ length: cells }, (_each, j) => (i === j ? 1 : 0) - chance(i, j)), 1]);
  for (let i = 0; i < cells; i++) {
    for (let r = i + 1; r < cells; r++) {
      const times = rows[r]![i]! / rows[i]![i]!;
      if (times !== 0) for (let c = i; c <= cells; c++) rows[r]![c]! -= times * rows[i]![c]!;
    }
  }
  const lengths: number[] = Array.from({ length: cells }, () => 0);
  for (let i = cells - 1; i >= 0; i--) {
    const known = lengths.reduce((sum, length, j) => (j > i ? sum + rows[i]![j]! * length : sum), 0);
    lengths[i] = (rows[i]![cells]! - known) / rows[i]![i]!;
  }
  return lengths[0]!;
}
