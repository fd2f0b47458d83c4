import { interpolate } from './interpolate.ts';
import type { Table } from './interpolate.ts';
import { SOLUBILITY_PERCENT } from './solubility.ts';

/**
 * Most alkali that stays dissolved, mass percent of the solution, against temperature in C.
 *
 * NaOH: 0 C 41.8 g and 100 C 337 g per 100 g water (an encyclopedia's copy, read), 80 C 75.8 % (Great
 * Soviet Encyclopedia, read), 10, 30 to 60 C Perry 7th ed. Table 2-122 (from memory). Between 10 and
 * 16 C a hydrate (NaOH in 3.5 water, melting at 15.7 C; Wang 2008, digitised, read) drops out of 34 to
 * 45 %, so the lower branch is taken there: a liquid jar of 50 % at 13 C is no promise for 39 %.
 */
// prettier-ignore
const NAOH: Table = [[0, 29.48], [10, 33.99], [15.7, 39], [16, 51.9], [20, SOLUBILITY_PERCENT.naoh], [30, 54.34], [40, 56.33], [50, 59.18], [60, 63.5], [80, 75.8], [100, 77.12]];

/** KOH: 97 g at 0 and 112 g at 20 C (Great Soviet Encyclopedia, read), 121, 138.3 and 162.9 g at 25, 50 and 100 C (wiki page, read). */
// prettier-ignore
const KOH: Table = [[0, 49.24], [20, SOLUBILITY_PERCENT.koh], [25, 54.75], [50, 58.04], [100, 61.96]];

/**
 * Limit at a temperature, mass percent; beyond 0 or 100 C the end value. Mixed alkali is weighted by
 * mass, an interpolation without a source.
 */
export function solubilityAtPercent(kohMassShare: number, temperatureC: number): number {
  return interpolate(NAOH, temperatureC) * (1 - kohMassShare) + interpolate(KOH, temperatureC) * kohMassShare;
}

/** Least water, mg, that keeps this alkali dissolved at the temperature; rounded up. */
export function leastWaterMg(alkali: { naohMg: number; kohMg: number }, temperatureC: number): number {
  const alkaliMg = alkali.naohMg + alkali.kohMg;
  if (alkaliMg <= 0) return 0;
  const limit = solubilityAtPercent(alkali.kohMg / alkaliMg, temperatureC);
  return Math.ceil((alkaliMg * (100 - limit)) / limit);
}
