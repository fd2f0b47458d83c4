import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import { figure } from './check-number.ts';

/**
 * Most alkali that stays dissolved at 20 C, mass percent of the solution. NaOH 109 g per 100 g water
 * (52.2 %; Great Soviet Encyclopedia; 50 % liquor is sold liquid), not the 46 % of one handbook. KOH
 * 112 g per 100 g water (52.8 %; same encyclopedia; Perry 7th ed. Table 2-122, from memory).
 * Below about 15 C strong NaOH solutions drop hydrate crystals: a stored jar must stay at room
 * temperature.
 */
export const SOLUBILITY_PERCENT = { naoh: 52, koh: 52.8 } as const;

/** For mixed alkalis the limits are weighted by mass: an interpolation, no source. */
export function solubilityPercent(kohMassShare: number): number {
  return SOLUBILITY_PERCENT.naoh * (1 - kohMassShare) + SOLUBILITY_PERCENT.koh * kohMassShare;
}

/** Refuses a lye concentration that would leave alkali undissolved at 20 C. */
export function checkSolubility(concentrationPercent: number, kohMassShare: number): FormulationProblem[] {
  const limit = solubilityPercent(kohMassShare);
  if (!Number.isFinite(concentrationPercent) || concentrationPercent <= limit) return [];
  const alkali = kohMassShare === 0 ? 'sodium hydroxide' : kohMassShare === 1 ? 'potassium hydroxide' : 'mixed alkali';
  const detail = `A lye concentration of ${figure(concentrationPercent)} % is past what dissolves: about ${figure(limit, 1)} % ${alkali} at 20 °C. Use more water; 30 to 35 % is usual.`;
  return [
    problem('concentration-past-solubility', '/lyeConcentrationPercent', detail, {
      concentrationPercent,
      limitPercent: limit,
    }),
  ];
}
