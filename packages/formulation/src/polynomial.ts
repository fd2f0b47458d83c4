/** Value of a polynomial whose coefficients are listed lowest power first (Horner's rule). */
export function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

/**
 * The x between `low` and `high` at which a rising function reaches `target`, by halving: no
 * derivative, no divergence, always an answer inside the bracket (its end, if the target lies
 * outside). 50 halvings leave less than 1e-12 of the bracket.
 */
export function whereRisingReaches(rising: (x: number) => number, target: number, low: number, high: number): number {
  let below = low;
  let above = high;
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = (below + above) / 2;
    if (rising(middle) < target) below = middle;
    else above = middle;
  }
  return (below + above) / 2;
}
