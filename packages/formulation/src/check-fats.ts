import { checkNumber, figure } from './check-number.ts';
import { fatByKey } from './fats.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import type { FatShare } from './recipe.ts';

/** Shares may miss 100 by this much: three thirds written as 33.33 add to 99.99. */
const SUM_TOLERANCE_PERCENT = 0.01;

/** A certificate may leave the published range by this share before it looks like a slip. */
const CERTIFICATE_SLACK = 0.05;

/**
 * A certificate must name a value near the published range of its fat: 19 for 190, or the value of
 * another oil, would otherwise pass into the alkali unseen. A waxy or old lot can still leave the
 * range by 5 %. An expanded uncertainty of 20 mg/g is wider than any published range.
 */
function checkCertificate(share: FatShare, index: number): FormulationProblem[] {
  const fat = fatByKey(share.fatKey);
  if (!share.certificateSv || !fat) return [];
  const pointer = `/fats/${index}/certificateSv`;
  const { low, high } = fat.saponificationValue;
  return [
    ...checkNumber(share.certificateSv.valueMgKohPerG, `${pointer}/valueMgKohPerG`, {
      name: `The certificate saponification value of ${fat.name} (published ${low} to ${high})`,
      unit: 'mg/g',
      min: Math.floor(low * (1 - CERTIFICATE_SLACK)),
      max: Math.ceil(high * (1 + CERTIFICATE_SLACK)),
    }),
    ...checkNumber(share.certificateSv.expandedUncertainty, `${pointer}/expandedUncertainty`, {
      name: `The expanded uncertainty for ${fat.name}`,
      unit: 'mg/g',
      min: 0,
      max: 20,
    }),
  ];
}

/** One line of the fats; the second of two equal keys is the one refused. */
function checkShare(share: FatShare, index: number, all: readonly FatShare[]): FormulationProblem[] {
  const pointer = `/fats/${index}`;
  const name = fatByKey(share.fatKey)?.name ?? share.fatKey;
  const problems = checkNumber(share.sharePercent, `${pointer}/sharePercent`, {
    name: `The share of ${name}`,
    unit: '%',
    min: 0.01,
    max: 100,
  });
  if (!fatByKey(share.fatKey)) {
    const detail = `There is no fat "${share.fatKey}" in the list; choose one of it.`;
    problems.push(problem('fat-unknown', `${pointer}/fatKey`, detail, { fatKey: share.fatKey }));
  }
  if (all.findIndex((other) => other.fatKey === share.fatKey) < index) {
    const detail = `${name} is listed twice; put its whole share in one line.`;
    problems.push(problem('fat-twice', `${pointer}/fatKey`, detail, { fatKey: share.fatKey }));
  }
  return [...problems, ...checkCertificate(share, index)];
}

/**
 * Unknown and doubled fats, shares out of range, and a sum that is not 100 within 0.01.
 *
 * The sum is refused rather than scaled to 100: which share was meant is the author's to say, and a
 * wrong guess changes the alkali. Pointers are "/fats" for the sum and "/fats/<index>/..." for a line.
 */
export function checkFats(fats: readonly FatShare[]): FormulationProblem[] {
  if (fats.length === 0) {
    return [problem('value-missing', '/fats', 'The recipe has no fat; add at least one, 100 % in all.')];
  }
  const problems = fats.flatMap(checkShare);
  const sum = fats.reduce((total, fat) => total + fat.sharePercent, 0);
  if (Number.isFinite(sum) && Math.abs(sum - 100) > SUM_TOLERANCE_PERCENT + 1e-9) {
    const gap = figure(Math.abs(100 - sum));
    const change = sum < 100 ? `add ${gap} % more` : `take ${gap} % away`;
    const detail = `The fats sum to ${figure(sum)} %; ${change} or change a share.`;
    problems.push(problem('fats-do-not-sum', '/fats', detail, { sumPercent: sum }));
  }
  return problems;
}
