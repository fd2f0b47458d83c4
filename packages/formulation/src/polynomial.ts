/** Value of a polynomial whose coefficients are listed lowest power first (Horner's rule). */
export function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let power = coefficients.length - 1; power >= 0; power -= 1) sum = sum * x + (coefficients[power] ?? 0);
  return sum;
}

/** Part of the bracket that is left in doubt; well above what rounding hides. */
const NEAR = 1e-12;

/**
 * The x between `low` and `high` at which a rising function reaches `target`: no derivative, no divergence, always an answer
 * inside the bracket (its end, if the target lies outside). Halving takes 50 looks at the function for a trillionth of the
 * bracket; Ridders' method (IEEE Trans. Circuits Syst. 26 (1979) 979) halves it with every two looks and mostly needs ten. While an
 * end is on the wrong side it is plain halving, which never trusts the ends: a fitted curve may go wild there.
 */
export function whereRisingReaches(rising: (x: number) => number, target: number, low: number, high: number): number {
  let [below, above] = [low, high];
  let [under, over] = [rising(low) - target, rising(high) - target];
  let last = Infinity;
  const take = (x: number, off: number): void => {
    if (off < 0 && x >= below) [below, under] = [x, off];
    if (off >= 0 && x <= above) [above, over] = [x, off];
  };
  for (let halving = 0; halving < 50 && above - below > NEAR * (high - low); halving += 1) {
    const middle = (below + above) / 2;
    const between = rising(middle) - target;
    const [left, right] = [under, over];
    take(middle, between);
    if (left >= 0 || right < 0) continue;
    // The three points, made straight by dividing by an exponential, cut zero inside the bracket.
    const found = middle - ((above === middle ? middle - below : above - middle) * between) / Math.sqrt(between * between - left * right);
    if (Math.abs(found - last) <= NEAR * (high - low)) return found;
    last = found;
    take(found, rising(found) - target);
  }
  return (below + above) / 2;
}
