import { checkNumber } from './check-number.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';
import { formatMass } from './quantity.ts';
import type { Scale } from './scale-error.ts';
import { calibrationUncertaintyMg, roundingUncertaintyMg } from './scale-error.ts';

/**
 * One weighing behind the balance. `sign` is +1 where the mass adds to the unaccounted mass (opening,
 * receipts) and -1 where it takes from it (removals, count). Weighings with the same `scaleKey` share
 * that scale's calibration error; without one a weighing stands alone. `scale` says more of it than its step.
 * `times` is how often the same was weighed on the same scale (1 when left out).
 */
export type Weighing = { stepMg: number; massMg: number; sign: 1 | -1; scaleKey?: string; scale?: Scale; times?: number };

/** All in mg: what was there, what came in, what went out, what is there now. */
export type BalanceInput = {
  openingMg: number;
  receiptsMg: number;
  removalsMg: number;
  countedMg: number;
  weighings: Weighing[];
};

export type Balance = {
  bookMg: number;
  unaccountedMg: number;
  standardUncertaintyMg: number;
  /** |unaccounted| over its standard uncertainty; null when there is no uncertainty to compare with. */
  ratio: number | null;
  verdict: 'agrees' | 'unclear' | 'does not agree';
  words: string;
};

/** Usual limits of a control chart: a difference past 2 u is a remark, past 3 u a finding. */
export const WARNING_RATIO = 2;
export const ACTION_RATIO = 3;

/**
 * Standard uncertainty of a signed sum of weighings, mg.
 *
 * Rounding is independent each time: squares add. The calibration error of one scale is one unknown
 * that leans the same way every time it is used (JCGM 100, F.1.2.3), so within a scale the signed
 * errors add before squaring: twenty removals on one scale do not average it out, while an opening
 * and a count on the same scale cancel for the most part.
 */
export function balanceUncertaintyMg(weighings: readonly Weighing[]): number {
  const perScale = new Map<string, number>();
  let variance = 0;
  for (const { stepMg, massMg, sign, scaleKey, scale, times = 1 } of weighings) {
    variance += times * roundingUncertaintyMg(stepMg) ** 2;
    const ownMg = calibrationUncertaintyMg(scale ?? stepMg, massMg);
    if (scaleKey === undefined) variance += times * ownMg ** 2;
    else perScale.set(scaleKey, (perScale.get(scaleKey) ?? 0) + sign * times * ownMg);
  }
  for (const signed of perScale.values()) variance += signed ** 2;
  return Math.sqrt(variance);
}

const SIGN = 'The sign of a weighing is 1 where its mass adds to the unaccounted mass, and -1 where it takes from it.';

const TIMES = 'How often the same was weighed is a whole number from 1.';

/** Masses must be whole mg: the ledger holds nothing finer, and a fraction means a unit was mixed up. */
function checkInput(input: BalanceInput): FormulationProblem[] {
  const mass = (value: number, pointer: string, name: string): FormulationProblem[] => {
    const found = checkNumber(value, pointer, { name, unit: 'mg', min: 0, max: 1e12 });
    if (found.length > 0 || Number.isInteger(value)) return found;
    return [problem('value-out-of-range', pointer, `${name} is ${value} mg; masses are whole milligrams.`)];
  };
  return [
    ...mass(input.openingMg, '/openingMg', 'The opening mass'),
    ...mass(input.receiptsMg, '/receiptsMg', 'The mass received'),
    ...mass(input.removalsMg, '/removalsMg', 'The mass removed'),
    ...mass(input.countedMg, '/countedMg', 'The mass counted'),
    ...input.weighings.flatMap((weighing, index) => [
      ...checkNumber(weighing.stepMg, `/weighings/${index}/stepMg`, { name: 'The scale step', unit: 'mg', min: 1, max: 1e6 }),
      ...checkNumber(weighing.massMg, `/weighings/${index}/massMg`, { name: 'The weighed mass', unit: 'mg', min: 0, max: 1e12 }),
      ...(weighing.sign === 1 || weighing.sign === -1 ? [] : [problem('value-out-of-range', `/weighings/${index}/sign`, SIGN)]),
      ...(Number.isSafeInteger(weighing.times ?? 1) && (weighing.times ?? 1) > 0 ? [] : [problem('value-out-of-range', `/weighings/${index}/times`, TIMES)]),
    ]),
  ];
}

/** Equal is equal whatever the uncertainty; without one, any difference is a finding. */
function verdictOf(unaccountedMg: number, ratio: number | null): Balance['verdict'] {
  if (unaccountedMg === 0) return 'agrees';
  if (ratio === null || ratio > ACTION_RATIO) return 'does not agree';
  return ratio > WARNING_RATIO ? 'unclear' : 'agrees';
}

/**
 * Unaccounted mass of a closed period: MUF = PB + X - Y - PE, physical opening plus receipts minus
 * removals minus physical count (IAEA Safeguards Glossary). Positive: missing from the shelf;
 * negative: more there than the book says. All masses whole mg.
 *
 * No weighings means no uncertainty: then any difference "does not agree", so that a loss cannot hide
 * behind missing data.
 */
export function unaccountedMass(input: BalanceInput): Outcome<Balance> {
  const problems = checkInput(input);
  if (problems.length > 0) return refuse(problems);
  const bookMg = input.openingMg + input.receiptsMg - input.removalsMg;
  const unaccountedMg = bookMg - input.countedMg;
  const standardUncertaintyMg = balanceUncertaintyMg(input.weighings);
  const ratio = standardUncertaintyMg > 0 ? Math.abs(unaccountedMg) / standardUncertaintyMg : null;
  const verdict = verdictOf(unaccountedMg, ratio);
  const side = unaccountedMg > 0 ? 'are missing' : 'are more than the book says';
  const difference = unaccountedMg === 0 ? 'Book and count are equal' : `${formatMass(Math.abs(unaccountedMg))} ${side}`;
  const doubt = ratio === null ? 'no weighing gives an uncertainty' : `standard uncertainty ${formatMass(Math.ceil(standardUncertaintyMg / 10) * 10)}`;
  return succeed({ bookMg, unaccountedMg, standardUncertaintyMg, ratio, verdict, words: `${difference} (${doubt}): ${WORDS[verdict]}.` });
}

const WORDS: Record<Balance['verdict'], string> = {
  agrees: 'the book agrees with the shelf',
  unclear: 'unclear, count again',
  'does not agree': 'the book does not agree with the shelf',
};
