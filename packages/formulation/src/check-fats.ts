import { checkNumber, figure } from './check-number.ts';
import { fatOfShare } from './fat-of-share.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import type { FatShare } from './recipe.ts';

/** Shares may miss 100 by this much: three thirds written as 33.33 add to 99.99. */
const SUM_TOLERANCE_PERCENT = 0.01;

/** No fat or wax has a saponification value outside this, mg/g: 19 typed for 190 is a slip. Jojoba has 90, coconut 265. */
const ANY_SV = { unit: 'mg/g', min: 50, max: 400 } as const;

/**
 * A certificate far from the published range of its fat is a question (warnings.ts), for a lot may leave
 * it; only a value no fat has is refused. An expanded uncertainty of 20 mg/g is wider than any
 * published range.
 */
function checkCertificate(share: FatShare, index: number): FormulationProblem[] {
  const fat = fatOfShare(share);
  if (!share.certificateSv || !fat) return [];
  const pointer = `/fats/${index}/certificateSv`;
  const { low, high } = fat.saponificationValue;
  return [
    ...checkNumber(share.certificateSv.valueMgKohPerG, `${pointer}/valueMgKohPerG`, {
      name: `The certificate saponification value of ${fat.name} (published ${low} to ${high})`,
      ...ANY_SV,
    }),
    ...checkNumber(share.certificateSv.expandedUncertainty, `${pointer}/expandedUncertainty`, {
      name: `The expanded uncertainty for ${fat.name}`,
      unit: 'mg/g',
      min: 0,
      max: 20,
    }),
  ];
}

/** Iodine values run from 0 of a hydrogenated fat to about 210 of perilla oil (from memory). */
function checkOwnIodine({ name, iodineValue }: NonNullable<FatShare['own']>, pointer: string): FormulationProblem[] {
  if (iodineValue === undefined) return [];
  const { low, high } = iodineValue;
  const rule = { unit: 'g/100 g', min: 0, max: 250 } as const;
  const problems = [
    ...checkNumber(low, `${pointer}/iodineValue/low`, { name: `The lowest iodine value of ${name}`, ...rule }),
    ...checkNumber(high, `${pointer}/iodineValue/high`, { name: `The highest iodine value of ${name}`, ...rule }),
  ];
  if (problems.length > 0 || low <= high) return problems;
  return [problem('value-out-of-range', `${pointer}/iodineValue`, `The iodine value of ${name} must run from low to high: ${figure(low)} to ${figure(high)}.`)];
}

/** Figures a studio entered itself: ends in order, and none that no fat has. */
function checkOwn({ own }: FatShare, index: number): FormulationProblem[] {
  if (!own) return [];
  const pointer = `/fats/${index}/own`;
  const { low, high } = own.saponificationValue;
  const problems = [
    ...checkNumber(low, `${pointer}/saponificationValue/low`, { name: `The lowest saponification value of ${own.name}`, ...ANY_SV }),
    ...checkNumber(high, `${pointer}/saponificationValue/high`, { name: `The highest saponification value of ${own.name}`, ...ANY_SV }),
    ...(own.densityGPerMl === undefined
      ? []
      : checkNumber(own.densityGPerMl, `${pointer}/densityGPerMl`, { name: `The density of ${own.name}`, unit: 'g/mL', min: 0.7, max: 1.1 })),
    ...(own.unsaponifiablePercent === undefined
      ? []
      : checkNumber(own.unsaponifiablePercent, `${pointer}/unsaponifiablePercent`, {
          name: `The unsaponifiable matter of ${own.name}`,
          unit: '%',
          min: 0,
          max: 60,
        })),
    ...checkOwnIodine(own, pointer),
  ];
  if (problems.length === 0 && low > high) {
    const detail = `The saponification value of ${own.name} must run from low to high: ${figure(low)} to ${figure(high)}.`;
    problems.push(problem('value-out-of-range', `${pointer}/saponificationValue`, detail));
  }
  return problems;
}

/** One line of the fats; the second of two equal keys is the one refused. */
function checkShare(share: FatShare, index: number, all: readonly FatShare[]): FormulationProblem[] {
  const pointer = `/fats/${index}`;
  const name = fatOfShare(share)?.name ?? share.fatKey;
  const problems = checkNumber(share.sharePercent, `${pointer}/sharePercent`, {
    name: `The share of ${name}`,
    unit: '%',
    min: 0.01,
    max: 100,
  });
  if (!fatOfShare(share)) {
    const detail = share.fatKey.startsWith('own:')
      ? 'The figures of this fat of yours are missing; choose it again.'
      : `There is no fat "${share.fatKey}" in the list; choose one of it.`;
    problems.push(problem('fat-unknown', `${pointer}/fatKey`, detail, { fatKey: share.fatKey }));
  }
  if (all.findIndex((other) => other.fatKey === share.fatKey) < index) {
    const detail = `${name} is listed twice; put its whole share in one line.`;
    problems.push(problem('fat-twice', `${pointer}/fatKey`, detail, { fatKey: share.fatKey }));
  }
  return [...problems, ...checkOwn(share, index), ...checkCertificate(share, index)];
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
