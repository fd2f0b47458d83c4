import { kohSolutionDensity } from './koh-solution.ts';
import { ATMOSPHERE_KPA, naohBoilingPointC, naohSolutionDensity } from './naoh-solution.ts';
import type { Outcome } from './outcome.ts';
import { solubilityAtPercent } from './solubility-curve.ts';
import { checkMass, checkTemperature, whenSound } from './when-sound.ts';

export type LyeSolution = {
  massMg: number;
  concentrationPercent: number;
  densityGPerMl: number;
  volumeMl: number;
  /** At one atmosphere; with any KOH that of water, which errs to the early side. */
  boilingPointC: number;
  solubilityPercent: number;
  source: string;
};

const SOURCE = `Density and boiling point of NaOH: Olsson, Jernqvist and Aly 1997, at ${ATMOSPHERE_KPA} kPa; density of KOH: Laliberte 2009, water: Kell 1975. Mixed alkali: weighted by mass, 0.5 %.`;

/** Kell's polynomial of water ends at 100 C; Olsson is used to 160 C. */
const KOH_MOST_C = 100;

/** Density in g/mL; masses in one unit. Handbook tables agree within 0.2 % for NaOH and 0.1 % for KOH. */
export function lyeDensityGPerMl(naoh: number, koh: number, water: number, temperatureC: number): number {
  const alkali = naoh + koh;
  const fraction = alkali / (alkali + water);
  const kohShare = alkali > 0 ? koh / alkali : 0;
  return naohSolutionDensity(fraction, temperatureC) * (1 - kohShare) + kohSolutionDensity(fraction, Math.min(temperatureC, KOH_MOST_C)) * kohShare;
}

/**
 * A prepared solution at a temperature: how much room it takes and when it boils. Masses in mg, all
 * water liquid; the alkali counts as pure. Refuses masses that are not numbers, and a pot without water.
 */
export function lyeSolution(pot: { naohMg: number; kohMg: number; waterMg: number }, temperatureC: number): Outcome<LyeSolution> {
  const { naohMg, kohMg, waterMg } = pot;
  const problems = [
    ...checkMass(naohMg, '/naohMg', 'The sodium hydroxide'),
    ...checkMass(kohMg, '/kohMg', 'The potassium hydroxide'),
    ...checkMass(waterMg, '/waterMg', 'The water', 1),
    ...checkTemperature(temperatureC, '/temperatureC', 'The temperature', { min: 0, max: 160 }),
  ];
  return whenSound(problems, () => {
    const massMg = naohMg + kohMg + waterMg;
    const densityGPerMl = lyeDensityGPerMl(naohMg, kohMg, waterMg, temperatureC);
    return {
      massMg,
      concentrationPercent: (100 * (naohMg + kohMg)) / massMg,
      densityGPerMl,
      volumeMl: massMg / 1000 / densityGPerMl,
      boilingPointC: kohMg > 0 ? 100 : naohBoilingPointC(naohMg / massMg),
      solubilityPercent: solubilityAtPercent(naohMg + kohMg > 0 ? kohMg / (naohMg + kohMg) : 0, temperatureC),
      source: SOURCE,
    };
  });
}
