import { KOH_G_PER_MOL, NAOH_G_PER_MOL } from './alkali.ts';
import { checkAssay, figure } from './check-number.ts';
import { molarMass } from './molar-mass.ts';
import type { FormulationProblem, Interval, Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { checkMass, checkPercent, whenSound } from './when-sound.ts';

const CO2_G_PER_MOL = molarMass({ C: 1, O: 2 });
const WATER_G_PER_MOL = molarMass({ H: 2, O: 1 });

const ALKALI = {
  NaOH: { name: 'sodium hydroxide', gPerMol: NAOH_G_PER_MOL, carbonateGPerMol: molarMass({ Na: 2, C: 1, O: 3 }) },
  KOH: { name: 'potassium hydroxide', gPerMol: KOH_G_PER_MOL, carbonateGPerMol: molarMass({ K: 2, C: 1, O: 3 }) },
} as const;

/**
 * What a certificate of analysis says, mass percent. An assay by titration with acid finds carbonate
 * as well: 'total alkali' is that sum stated as hydroxide; 'hydroxide' has carbonate taken off already.
 * Carbonate and water as a range; a certificate's "at most 1 %" is 0 to 1.
 */
export type Certificate = { assayIs: 'hydroxide' | 'total alkali'; assayPercent: Interval; carbonatePercent?: Interval; waterPercent?: Interval };

function checkShare(share: Interval | undefined, pointer: string, name: string): FormulationProblem[] {
  if (!share) return [];
  const problems = [share.low, share.nominal, share.high].flatMap((end) => checkPercent(end, pointer, name, { min: 0, max: 50 }));
  if (problems.length === 0 && !(share.low <= share.nominal && share.nominal <= share.high))
    problems.push(problem('value-out-of-range', pointer, `${name} must run from low to high.`));
  return problems;
}

const NONE: Interval = { low: 0, nominal: 0, high: 0 };

/**
 * Share of hydroxide, percent, that can saponify: carbonate does not. Total alkali counts two moles of
 * hydroxide for one of carbonate, so 2 M(hydroxide) / M(carbonate) times the carbonate comes off. The
 * high end also leaves room for the least carbonate and water: it is the one that could be caustic.
 * Refuses shares that together are more than 100 % even at their lowest.
 */
export function hydroxideContent(kind: keyof typeof ALKALI, certificate: Certificate): Outcome<Interval> {
  const { assayPercent, carbonatePercent = NONE, waterPercent = NONE } = certificate;
  const { name, gPerMol, carbonateGPerMol } = ALKALI[kind];
  const problems = [
    ...checkAssay(assayPercent, '/assayPercent', `The assay of ${name}`),
    ...checkShare(certificate.carbonatePercent, '/carbonatePercent', 'The carbonate share'),
    ...checkShare(certificate.waterPercent, '/waterPercent', 'The water share'),
  ];
  const perCarbonate = certificate.assayIs === 'total alkali' ? (2 * gPerMol) / carbonateGPerMol : 0;
  const low = assayPercent.low - perCarbonate * carbonatePercent.high;
  const sum = assayPercent.low - perCarbonate * carbonatePercent.low + carbonatePercent.low + waterPercent.low;
  if (problems.length === 0 && sum > 100 + 1e-9) {
    problems.push(
      problem('value-out-of-range', '/assayPercent', `Hydroxide, carbonate and water sum to at least ${figure(sum)} %; check the certificate.`, {
        sumPercent: sum,
      }),
    );
  }
  return whenSound(problems, () => {
    const high = Math.min(assayPercent.high - perCarbonate * carbonatePercent.low, 100 - carbonatePercent.low - waterPercent.low);
    const nominal = assayPercent.nominal - perCarbonate * carbonatePercent.nominal;
    return { low, nominal: Math.min(high, Math.max(low, nominal)), high };
  });
}

export type Carbonation = { co2TakenMg: number; carbonateMg: number; waterMg: number; hydroxideLeftMg: number; gainMg: number };

/**
 * What air does to an open tub: 2 NaOH + CO2 -> Na2CO3 + H2O (KOH alike). The tub gets heavier and
 * weaker: weighed by mass it then holds less hydroxide than its certificate says, which errs to more
 * superfat.
 * @param massMg pure hydroxide, mg
 * @param turnedPercent share of it that has turned to carbonate
 */
export function carbonation(kind: keyof typeof ALKALI, massMg: number, turnedPercent: number): Outcome<Carbonation> {
  const problems = [...checkMass(massMg, '/massMg', 'The hydroxide'), ...checkPercent(turnedPercent, '/turnedPercent', 'The share turned to carbonate')];
  return whenSound(problems, () => {
    const { gPerMol, carbonateGPerMol } = ALKALI[kind];
    const turnedMg = (massMg * turnedPercent) / 100;
    const pairs = turnedMg / (2 * gPerMol);
    const co2TakenMg = pairs * CO2_G_PER_MOL;
    return { co2TakenMg, carbonateMg: pairs * carbonateGPerMol, waterMg: pairs * WATER_G_PER_MOL, hydroxideLeftMg: massMg - turnedMg, gainMg: co2TakenMg };
  });
}
