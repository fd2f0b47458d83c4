import { checkNumber, figure } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import type { LyePot } from './peak-temperature.ts';
import { peakTemperature } from './peak-temperature.ts';
import { lyeDensityGPerMl } from './solution.ts';
import { checkMass, whenSound } from './when-sound.ts';

export type FillLevel = { volumeMl: number; fillPercent: number; verdict: 'fits' | 'too full' | 'does not fit'; words: string };

/** Two thirds full at most, so that stirring and spitting stay inside; common practice, no source. */
const MOST_PERCENT = 200 / 3;

/** Ice at 0 C, g/mL (CRC Handbook, from memory): it floats, but takes its room before it melts. */
const ICE_G_PER_ML = 0.917;

/**
 * How full a container gets, mL and percent: the hot solution at its peak, where it is thinnest, or
 * the water with its ice before any lye, whichever is more. Container volume to the brim in mL.
 */
export function fillLevel(pot: LyePot, containerMl: number): Outcome<FillLevel> {
  const problems = [
    ...checkMass(pot.naohMg, '/naohMg', 'The sodium hydroxide'),
    ...checkMass(pot.kohMg, '/kohMg', 'The potassium hydroxide'),
    ...checkMass(pot.waterMg + pot.iceMg, '/waterMg', 'The water with its ice', 1),
    ...checkNumber(containerMl, '/containerMl', { name: 'The container volume', unit: 'mL', min: 1, max: 1_000_000 }),
  ];
  return whenSound(problems, () => {
    const waterMg = pot.waterMg + pot.iceMg;
    const peakC = Math.min(160, Math.max(0, peakTemperature(pot).temperatureC));
    const hotMl = (pot.naohMg + pot.kohMg + waterMg) / 1000 / lyeDensityGPerMl(pot.naohMg, pot.kohMg, waterMg, peakC);
    const volumeMl = Math.max(hotMl, pot.waterMg / 1000 + pot.iceMg / 1000 / ICE_G_PER_ML);
    const fillPercent = (100 * volumeMl) / containerMl;
    const verdict = fillPercent > 100 ? 'does not fit' : fillPercent > MOST_PERCENT ? 'too full' : 'fits';
    const least = Math.ceil((volumeMl * 100) / MOST_PERCENT / 50) * 50;
    const words = `${figure(volumeMl, 0)} mL fill ${figure(fillPercent, 0)} % of the container${verdict === 'fits' ? '.' : `; take one of at least ${least} mL, to be two thirds full at most.`}`;
    return { volumeMl, fillPercent, verdict, words };
  });
}
