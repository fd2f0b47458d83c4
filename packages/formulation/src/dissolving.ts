import { figure } from './check-number.ts';
import type { LyePot } from './peak-temperature.ts';
import { isPot, momentAfter } from './peak-temperature.ts';
import { leastWaterMg, solubilityAtPercent } from './solubility-curve.ts';

/** `leastWaterMg` is all the water needed, ice included, at `temperatureC`. */
export type Dissolving = { dissolves: boolean; temperatureC: number; concentrationPercent: number; limitPercent: number; leastWaterMg: number; words: string };

/** A pot with KOH is only bounded from above, and a hotter pot dissolves more: no credit past this. */
const ROOM_C = 20;

const UNKNOWN: Dissolving = {
  dissolves: false,
  temperatureC: 0,
  concentrationPercent: 100,
  limitPercent: 0,
  leastWaterMg: Infinity,
  words: 'A mass or temperature of the pot is not known: whether its alkali dissolves cannot be said.',
};

/**
 * Whether all alkali of a pot dissolves at the temperature it reaches when everything is in. Much ice
 * with strong lye can end so cold that it does not: beads then lie on the bottom and go on later,
 * when nobody expects it. Ice that is left does not count as water. What is no pot does not dissolve.
 */
export function dissolvesInPot(pot: LyePot): Dissolving {
  if (!isPot(pot)) return UNKNOWN;
  const alkaliMg = pot.naohMg + pot.kohMg;
  const end = momentAfter(1, pot);
  const temperatureC = pot.kohMg > 0 ? Math.min(ROOM_C, end.temperatureC) : end.temperatureC;
  const waterMg = pot.waterMg + pot.iceMg - end.iceLeftMg;
  const limitPercent = solubilityAtPercent(alkaliMg > 0 ? pot.kohMg / alkaliMg : 0, temperatureC);
  const concentrationPercent = (100 * alkaliMg) / (alkaliMg + waterMg);
  const dissolves = concentrationPercent <= limitPercent;
  const least = leastWaterMg(pot, temperatureC);
  const words = dissolves
    ? `All alkali dissolves: ${figure(concentrationPercent, 1)} % of at most ${figure(limitPercent, 1)} % at ${figure(temperatureC, 0)} °C.`
    : `Not all alkali dissolves: ${figure(concentrationPercent, 1)} % is past the ${figure(limitPercent, 1)} % of ${figure(temperatureC, 0)} °C. Use at least ${figure(least / 1000, 0)} g of water, or less ice.`;
  return { dissolves, temperatureC, concentrationPercent, limitPercent, leastWaterMg: least, words };
}
