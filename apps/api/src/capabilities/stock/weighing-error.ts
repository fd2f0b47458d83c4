import { errorLimitMg } from '@ashwater/formulation';
import type { Scale } from '@ashwater/formulation';

/** Standard uncertainty of one rounding, mg: spread evenly over one step of the scale (JCGM 100, F.2.2.1). Independent each time: squares add. */
export const roundingErrorMg = (stepMg: number): number => stepMg / Math.sqrt(12);

/**
 * Standard uncertainty of a scale's own error, mg: spread evenly between its limits (JCGM 100, 4.3.7). One unknown that leans the same way at
 * every use (F.1.2.3): within a scale the signed errors add before squaring. `scale` is a scale, or its step in mg.
 */
export const ownErrorMg = (scale: Scale | number, massMg: number): number =>
  (errorLimitMg(scale, massMg) - (typeof scale === 'number' ? scale : scale.stepMg) / 2) / Math.sqrt(3);
