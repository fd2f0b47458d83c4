import type { CheckWeighing } from './check-weighing.ts';
import { checkedLimitMg } from './check-weighing.ts';
import type { AccuracyClass } from './scale-class.ts';
import { inServiceLimitMg } from './scale-class.ts';

/**
 * A bench scale: its step (smallest change it shows) and its capacity, both in mg. The rest narrows or
 * widens what it may be wrong by: its verification interval e (the step if left out), its class (III
 * if left out), or the studio's own check weighings, which are believed before any class.
 */
export type Scale = {
  stepMg: number;
  capacityMg: number;
  verificationIntervalMg?: number;
  accuracyClass?: AccuracyClass;
  checkWeighings?: CheckWeighing[];
};

/** A scale, or only its step in mg: then class III with e equal to the step. */
export type ScaleOrStep = number | Pick<Scale, 'stepMg' | 'verificationIntervalMg' | 'accuracyClass' | 'checkWeighings'>;

/**
 * How wrong a scale may be at a load, mg, before rounding: the one place that says so.
 *
 * Default: OIML R 76-1:2006 in service, class III with the verification interval e equal to the step:
 * 1 e up to 500 e, 2 e up to 2 000 e and 3 e up to 10 000 e (scale-class.ts has the source and the
 * other classes). The limits hold for the net mass after taring. A kitchen scale that was never
 * verified can be worse: check it with a known mass and state the result in `checkWeighings`.
 */
export function calibrationLimitMg(scale: ScaleOrStep, massMg: number): number {
  if (typeof scale === 'number') return inServiceLimitMg('III', scale, massMg);
  const { stepMg, verificationIntervalMg, accuracyClass, checkWeighings } = scale;
  if (checkWeighings && checkWeighings.length > 0) return checkedLimitMg(stepMg, checkWeighings, massMg);
  return inServiceLimitMg(accuracyClass ?? 'III', verificationIntervalMg ?? stepMg, massMg);
}

/**
 * Farthest the true mass can be from a reading, mg: the limit in service and half a step of rounding. Of a scale or reading
 * whose figures are not numbers nothing is known: no limit, Infinity.
 */
export function errorLimitMg(scale: ScaleOrStep, readingMg: number): number {
  const stepMg = typeof scale === 'number' ? scale : scale?.stepMg;
  if (!Number.isFinite(stepMg) || !Number.isFinite(readingMg)) return Infinity;
  const limitMg = calibrationLimitMg(scale, readingMg) + stepMg / 2;
  return Number.isFinite(limitMg) ? limitMg : Infinity;
}

/** Standard uncertainty of the rounding alone, mg: rectangular over one step (JCGM 100, F.2.2.1). */
export function roundingUncertaintyMg(stepMg: number): number {
  return stepMg / Math.sqrt(12);
}

/** Standard uncertainty of the scale itself, mg: rectangular between its limits (JCGM 100, 4.3.7). */
export function calibrationUncertaintyMg(scale: ScaleOrStep, massMg: number): number {
  return calibrationLimitMg(scale, massMg) / Math.sqrt(3);
}
