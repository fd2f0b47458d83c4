import { needOfKohMg } from './alkali.ts';
import { checkNumber, figure } from './check-number.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { checkPercent, whenSound } from './when-sound.ts';

/**
 * Superfat by fat added late, after the base soap has formed, instead of by less lye. For the balance
 * it makes no difference: superfat is the share of the whole need that finds no alkali. It makes one
 * for safety: until the late fat is in, the base has only its own discount, and with none of it can
 * be caustic.
 */
export type LateFat = { massMg: number; saponificationValue: number };

export type LateFatFigures = {
  /** The lye discount on all fats together that leaves the same superfat. */
  equivalentDiscountPercent: number;
  /** What protects the base before the late fat goes in. */
  baseDiscountPercent: number;
  words: string;
};

function checkLate(fat: LateFat, pointer: string): FormulationProblem[] {
  return [
    ...checkNumber(fat.massMg, `${pointer}/massMg`, { name: 'The late fat', unit: 'mg', min: 0, max: 100_000_000 }),
    ...checkNumber(fat.saponificationValue, `${pointer}/saponificationValue`, { name: 'Its saponification value', unit: 'mg/g', min: 10, max: 600 }),
  ];
}

const BASE = { name: 'The need of the base', unit: 'mg', min: 1, max: 1_000_000_000 } as const;
const DISCOUNT = { min: 0, max: 30 } as const;

function wordsFor(wholePercent: number, basePercent: number): string {
  const before =
    basePercent > 0 ? `only ${figure(basePercent, 1)} % before it is in` : 'none before it is in: the base can be caustic until then, so treat it as lye';
  return `The late fat makes the superfat ${figure(wholePercent, 1)} % in all; ${before}. In soap that is not cooked the lye takes of every fat, also of the late one (common practice, no source).`;
}

/**
 * Superfat of base and late fats as one discount: e = 1 - (1 - d) N / (N + sum m SV).
 * @param baseNeedMg need of the base fats, mg of pure KOH
 * @param baseDiscountPercent d, the lye discount already in the base
 */
export function discountOfLateFat(baseNeedMg: number, baseDiscountPercent: number, lateFats: readonly LateFat[]): Outcome<LateFatFigures> {
  const problems = [
    ...checkNumber(baseNeedMg, '/baseNeedMg', BASE),
    ...checkPercent(baseDiscountPercent, '/baseDiscountPercent', 'The discount of the base', DISCOUNT),
    ...lateFats.flatMap((fat, index) => checkLate(fat, `/lateFats/${index}`)),
  ];
  return whenSound(problems, () => {
    const lateMg = lateFats.reduce((sum, fat) => sum + needOfKohMg(fat.massMg, fat.saponificationValue), 0);
    const equivalentDiscountPercent = 100 * (1 - ((1 - baseDiscountPercent / 100) * baseNeedMg) / (baseNeedMg + lateMg));
    return { equivalentDiscountPercent, baseDiscountPercent, words: wordsFor(equivalentDiscountPercent, baseDiscountPercent) };
  });
}

/**
 * Late fat, whole mg rounded up, that lifts the superfat to an aim: m SV = N (e - d) / (1 - e).
 * Refuses an aim under the discount already in the base.
 */
export function lateFatFor(
  baseNeedMg: number,
  baseDiscountPercent: number,
  aimPercent: number,
  saponificationValue: number,
): Outcome<{ massMg: number; words: string }> {
  const problems = [
    ...checkNumber(baseNeedMg, '/baseNeedMg', BASE),
    ...checkPercent(baseDiscountPercent, '/baseDiscountPercent', 'The discount of the base', DISCOUNT),
    ...checkPercent(aimPercent, '/aimPercent', 'The superfat', DISCOUNT),
    ...checkLate({ massMg: 0, saponificationValue }, ''),
  ];
  if (problems.length === 0 && aimPercent < baseDiscountPercent) {
    const detail = `The base already has ${figure(baseDiscountPercent, 1)} % superfat; late fat cannot bring it down to ${figure(aimPercent, 1)} %.`;
    problems.push(problem('value-out-of-range', '/aimPercent', detail, { aimPercent, baseDiscountPercent }));
  }
  return whenSound(problems, () => {
    const lateNeedMg = (baseNeedMg * (aimPercent - baseDiscountPercent)) / (100 - aimPercent);
    return { massMg: Math.ceil((lateNeedMg * 1000) / saponificationValue - 1e-6), words: wordsFor(aimPercent, baseDiscountPercent) };
  });
}
