import { figure } from './check-number.ts';
import { naohBoilingPointC } from './naoh-solution.ts';
import type { LyePot } from './peak-temperature.ts';
import { isPot, momentAfter, peakTemperature } from './peak-temperature.ts';
import type { PeakTemperature } from './recipe.ts';

/** The stirred pot after a share of its alkali; `marginC` is how far below boiling it is. */
export type PathPoint = { sharePercent: number; temperatureC: number; vapourKPa: number; iceLeftMg: number; boilingPointC: number; marginC: number };

export type PathWarning = { code: 'boils' | 'water-boils' | 'near-boiling' | 'ice-left'; detail: string };

export type PeakPath = {
  points: PathPoint[];
  peak: PeakTemperature;
  /** Share of the alkali that is in when the pot is hottest. */
  peakAtSharePercent: number;
  /** Least distance to boiling along the path, C; negative when it boils. */
  marginC: number;
  warnings: PathWarning[];
};

/** Every twentieth of the alkali: enough for a curve on a screen, the peak itself is searched finer. */
const POINTS = 21;

/** Our limit for a remark, as in a recipe; common practice, no source. */
const NEAR_BOILING_C = 90;

/**
 * Boiling point of what is in the pot at that moment, not of the finished solution: after half of the
 * lye the pot is thinner and boils earlier. Ice counts as melted, and KOH as water: both err to the
 * early side.
 */
function pointAt(sharePercent: number, lye: LyePot): PathPoint {
  const moment = momentAfter(sharePercent / 100, lye);
  const naoh = (lye.naohMg * sharePercent) / 100;
  const boilingPointC = lye.kohMg > 0 ? 100 : naohBoilingPointC(naoh / (naoh + lye.waterMg + lye.iceMg));
  return { sharePercent, ...moment, boilingPointC, marginC: boilingPointC - moment.temperatureC };
}

function warningsOf(peak: PeakTemperature, marginC: number): PathWarning[] {
  const shown = `${peak.kind === 'estimate' ? 'about' : 'at most'} ${Math.ceil(peak.temperatureC)} °C`;
  const warnings: PathWarning[] = [];
  if (marginC <= 0)
    warnings.push({
      code: 'boils',
      detail: `The pot may boil while the lye goes in (${shown}). Do not make it like this: use more ice or a lower lye concentration.`,
    });
  else if (peak.temperatureC >= 100) {
    warnings.push({
      code: 'water-boils',
      detail: `The solution reaches ${shown}: it stays ${figure(marginC, 0)} °C below its own boiling point, but the water around each bead boils and spits. Use more ice.`,
    });
  } else if (peak.temperatureC >= NEAR_BOILING_C) {
    warnings.push({ code: 'near-boiling', detail: `The solution reaches ${shown} and may spit or steam. Use more ice or colder water.` });
  }
  if (peak.iceLeftMg > 0)
    warnings.push({
      code: 'ice-left',
      detail: `${figure(peak.iceLeftMg / 1000, 0)} g of ice may be left: stir until none and no bead is to be seen, it can still warm.`,
    });
  return warnings;
}

const UNKNOWN: PathWarning = { code: 'boils', detail: 'A mass or temperature of the pot is not known, so its heat is not: do not make it like this.' };

/**
 * Temperature, vapour pressure (kPa), ice left and margin to boiling against the share of the alkali
 * that is in, from none to all. Same balance and limits as `peakTemperature`: no heat loss, perfect
 * stirring, upper bound with KOH. The warnings look at every point and at the finer search of the peak.
 * @param pot masses in mg, temperatures in C; without water or ice, or with what is no number, it has no points and boils
 */
export function peakPath(pot: LyePot, pointCount = POINTS): PeakPath {
  if (!isPot(pot)) return { points: [], peak: peakTemperature(pot), peakAtSharePercent: 100, marginC: -Infinity, warnings: [UNKNOWN] };
  const last = Math.max(2, Math.min(201, Math.floor(pointCount) || POINTS)) - 1;
  const points = Array.from({ length: last + 1 }, (_, index) => pointAt((100 * index) / last, pot));
  const peak = peakTemperature(pot);
  const hottest = points.reduce((best, point) => (point.temperatureC > best.temperatureC ? point : best));
  const marginC = points.reduce((least, point) => Math.min(least, point.marginC), Infinity);
  return { points, peak, peakAtSharePercent: hottest.sharePercent, marginC, warnings: warningsOf(peak, marginC) };
}
