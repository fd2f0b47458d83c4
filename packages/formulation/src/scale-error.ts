/** A bench scale: its step (smallest change it shows) and its capacity, both in mg. */
export type Scale = { stepMg: number; capacityMg: number };

/**
 * How wrong a scale may be: the one place that says so.
 *
 * Modelled on OIML R 76-1:2006, class III, with the verification interval e equal to the step. The
 * limits at verification are 0.5 e up to 500 e, 1 e up to 2 000 e and 1.5 e up to 10 000 e; in
 * service twice these (Table 6 and 3.5.2; the 1.5 e at 5 000 e was read in a maker's manual, the
 * rest is from memory). They hold for the net mass after taring. Past 10 000 e the class ends: the
 * limit then grows in proportion, our extension. A kitchen scale that was never verified can be
 * worse: check it with a known mass.
 */
export function calibrationLimitMg(stepMg: number, massMg: number): number {
  const divisions = Math.abs(massMg) / stepMg;
  if (divisions <= 500) return stepMg;
  if (divisions <= 2000) return 2 * stepMg;
  if (divisions <= 10_000) return 3 * stepMg;
  return (3 * stepMg * divisions) / 10_000;
}

/** Farthest the true mass can be from a reading, mg: the limit in service and half a step of rounding. */
export function errorLimitMg(stepMg: number, readingMg: number): number {
  return calibrationLimitMg(stepMg, readingMg) + stepMg / 2;
}

/** Standard uncertainty of the rounding alone, mg: rectangular over one step (JCGM 100, F.2.2.1). */
export function roundingUncertaintyMg(stepMg: number): number {
  return stepMg / Math.sqrt(12);
}

/** Standard uncertainty of the scale itself, mg: rectangular between its limits (JCGM 100, 4.3.7). */
export function calibrationUncertaintyMg(stepMg: number, massMg: number): number {
  return calibrationLimitMg(stepMg, massMg) / Math.sqrt(3);
}
