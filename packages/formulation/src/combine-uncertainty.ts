/** A best estimate and its standard uncertainty, in one unit. */
export type Doubt = { value: number; standardUncertainty: number };

/** One input of a model, named for people. */
export type DoubtfulInput = Doubt & { what: string };

/** What one input adds: |df/dx| u(x), and its share of the variance. */
export type Contribution = { what: string; standardUncertainty: number; varianceSharePercent: number };

export type Combined = Doubt & { contributions: Contribution[] };

/**
 * Rectangular doubt between limits of which no place is likelier (JCGM 100, 4.3.7): half-width over
 * root 3. With the best estimate off the middle the wider half is taken, the larger figure.
 */
export function rectangular(limits: { low: number; nominal: number; high: number }): Doubt {
  const halfWidth = Math.max(limits.high - limits.nominal, limits.nominal - limits.low);
  return { value: limits.nominal, standardUncertainty: halfWidth / Math.sqrt(3) };
}

/** From a certificate's expanded uncertainty (JCGM 100, 4.3.3); k = 2 unless it says otherwise. */
export function expanded(value: number, expandedUncertainty: number, k = 2): Doubt {
  return { value, standardUncertainty: expandedUncertainty / k };
}

/** Part of the uncertainty over which a slope is taken: small against any curve, large against rounding. */
const STEP = 1e-3;

/**
 * Law of propagation for independent inputs (JCGM 100, 5.1.2): u^2 = sum (df/dx_i u_i)^2. Slopes by
 * central differences over a thousandth of each u, so any smooth model will do. Contributions are
 * listed widest first. The value is the model at the best estimates.
 */
export function combineUncertainty(model: (values: readonly number[]) => number, inputs: readonly DoubtfulInput[]): Combined {
  const values = inputs.map((input) => input.value);
  const parts = inputs.map((input, index) => {
    const shifted = (by: number): number => model(values.map((value, at) => (at === index ? value + by * input.standardUncertainty : value)));
    const part = input.standardUncertainty === 0 ? 0 : Math.abs(shifted(STEP) - shifted(-STEP)) / (2 * STEP);
    return { what: input.what, part };
  });
  const variance = parts.reduce((sum, { part }) => sum + part * part, 0);
  const contributions = parts
    .map(({ what, part }): Contribution => ({ what, standardUncertainty: part, varianceSharePercent: variance === 0 ? 0 : (100 * part * part) / variance }))
    .sort((a, b) => b.standardUncertainty - a.standardUncertainty);
  return { value: model(values), standardUncertainty: Math.sqrt(variance), contributions };
}
