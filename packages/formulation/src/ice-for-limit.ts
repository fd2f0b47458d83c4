import { figure } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import type { LyePot } from './peak-temperature.ts';
import { peakTemperature } from './peak-temperature.ts';
import type { PeakTemperature } from './recipe.ts';
import { checkMass, checkTemperature, whenSound } from './when-sound.ts';

/** A pot whose ice is still open: `plainWaterMg` may become ice, `liquidWaterMg` (milk, tea) stays liquid. */
export type OpenPot = Omit<LyePot, 'waterMg' | 'iceMg'> & { plainWaterMg: number; liquidWaterMg: number };

export type IceForLimit =
  { reached: true; iceSharePercent: number; peak: PeakTemperature; words: string } | { reached: false; lowestPeak: PeakTemperature; words: string };

/** The pot with a share of its plain water as ice, whole mg. */
export function potWithIce(pot: OpenPot, iceSharePercent: number): LyePot {
  const { plainWaterMg, liquidWaterMg, ...rest } = pot;
  const iceMg = Math.round((plainWaterMg * iceSharePercent) / 100);
  return { ...rest, iceMg, waterMg: plainWaterMg - iceMg + liquidWaterMg };
}

/** Ice is planned in tenths of a percent: finer than anybody breaks ice. */
const TENTHS = 1000;

/**
 * Least ice share, percent in tenths, that keeps the peak at or below a limit in C; or that none does,
 * with the peak on ice alone. The peak never rises with more ice, so halving finds it. No credit for
 * lost heat or for portions, so somewhat less ice may do; less than this is not promised.
 */
export function iceForLimit(pot: OpenPot, limitC: number): Outcome<IceForLimit> {
  const problems = [
    ...checkMass(pot.naohMg, '/naohMg', 'The sodium hydroxide'),
    ...checkMass(pot.kohMg, '/kohMg', 'The potassium hydroxide'),
    ...checkMass(pot.plainWaterMg, '/plainWaterMg', 'The plain water'),
    ...checkMass(pot.liquidWaterMg, '/liquidWaterMg', 'The water of other liquids'),
    ...checkMass(pot.plainWaterMg + pot.liquidWaterMg, '/plainWaterMg', 'All water', 1),
    ...checkTemperature(pot.waterTemperatureC, '/waterTemperatureC', 'The water temperature', { min: 0, max: 100 }),
    ...checkTemperature(pot.iceTemperatureC, '/iceTemperatureC', 'The ice temperature', { min: -40, max: 0 }),
    ...checkTemperature(limitC, '/limitC', 'The limit', { min: 0, max: 150 }),
  ];
  return whenSound(problems, () => {
    const peakAt = (tenths: number): PeakTemperature => peakTemperature(potWithIce(pot, tenths / 10));
    const lowestPeak = peakAt(TENTHS);
    if (lowestPeak.temperatureC > limitC) {
      const words = `Even with all the plain water as ice the pot reaches ${Math.ceil(lowestPeak.temperatureC)} °C, above ${figure(limitC, 0)} °C. Use a lower lye concentration, or wait between portions of lye.`;
      return { reached: false, lowestPeak, words };
    }
    let enough = TENTHS;
    for (let tooLittle = -1; enough - tooLittle > 1;) {
      const middle = Math.floor((tooLittle + enough) / 2);
      if (peakAt(middle).temperatureC <= limitC) enough = middle;
      else tooLittle = middle;
    }
    const peak = peakAt(enough);
    const words =
      enough === 0
        ? `No ice is needed to stay at or below ${figure(limitC, 0)} °C.`
        : `At least ${figure(enough / 10, 1)} % of the plain water as ice keeps the pot at or below ${figure(limitC, 0)} °C.`;
    return { reached: true, iceSharePercent: enough / 10, peak, words };
  });
}
