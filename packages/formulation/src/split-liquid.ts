import { figure } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { solubilityPercent } from './solubility.ts';
import { checkMass, checkPercent, whenSound } from './when-sound.ts';

/** Water of one liquid, mg, and the share of that liquid that is stirred into the fats instead. */
export type SplitPart = { waterMg: number; intoFatsPercent: number };

export type SplitLiquid = {
  potWaterMg: number;
  fatsWaterMg: number;
  /** What is in the pot while the lye goes in: stronger and hotter than the recipe says. */
  potConcentrationPercent: number;
  wholeConcentrationPercent: number;
  words: string;
};

/**
 * Liquid that goes into the fats, so that milk or juice never meets hot lye. It leaves less water in
 * the pot: the pot is stronger and its peak higher, so peak, path and container are judged by
 * `potWaterMg`. Refuses a pot that does not dissolve its alkali at 20 C. Ice counts as part of the
 * water that stays. Pointers: "/parts/<index>/...".
 */
export function splitLiquid(alkali: { naohMg: number; kohMg: number }, parts: readonly SplitPart[]): Outcome<SplitLiquid> {
  const alkaliMg = alkali.naohMg + alkali.kohMg;
  const problems = [
    ...checkMass(alkali.naohMg, '/naohMg', 'The sodium hydroxide'),
    ...checkMass(alkali.kohMg, '/kohMg', 'The potassium hydroxide'),
    ...checkMass(alkaliMg, '/naohMg', 'The alkali', 1),
    ...parts.flatMap((part, index) => [
      ...checkMass(part.waterMg, `/parts/${index}/waterMg`, `The water of liquid ${index + 1}`),
      ...checkPercent(part.intoFatsPercent, `/parts/${index}/intoFatsPercent`, `The share of liquid ${index + 1} for the fats`),
    ]),
  ];
  const wholeMg = parts.reduce((sum, part) => sum + part.waterMg, 0);
  const fatsWaterMg = Math.round(parts.reduce((sum, part) => sum + (part.waterMg * part.intoFatsPercent) / 100, 0));
  const potWaterMg = wholeMg - fatsWaterMg;
  const potConcentrationPercent = (100 * alkaliMg) / (alkaliMg + potWaterMg);
  const wholeConcentrationPercent = (100 * alkaliMg) / (alkaliMg + wholeMg);
  const limit = solubilityPercent(alkali.kohMg / alkaliMg);
  if (problems.length === 0 && potConcentrationPercent > limit) {
    const detail = `With ${figure(fatsWaterMg / 1000, 0)} g of water in the fats the lye pot is at ${figure(potConcentrationPercent, 1)} %, past the ${figure(limit, 1)} % that dissolves at 20 °C; leave more liquid in the pot.`;
    problems.push(problem('concentration-past-solubility', '/parts', detail, { concentrationPercent: potConcentrationPercent, limitPercent: limit }));
  }
  const words = `Lye pot at ${figure(potConcentrationPercent, 1)} % instead of ${figure(wholeConcentrationPercent, 1)} %: it gets hotter than the whole liquid would.`;
  return whenSound(problems, () => ({ potWaterMg, fatsWaterMg, potConcentrationPercent, wholeConcentrationPercent, words }));
}
