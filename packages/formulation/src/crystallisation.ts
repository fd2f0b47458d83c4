import { figure } from './check-number.ts';
import { interpolate } from './interpolate.ts';
import type { Table } from './interpolate.ts';
import type { AlkaliKind } from './hazard.ts';
import { solubilityAtPercent } from './solubility-curve.ts';

/**
 * Temperature, C, at which a NaOH solution of a mass percent begins to freeze or crystallise: phase
 * diagram in Wang 2008 (thesis), points digitised from the plot by others, +-1 C and +-0.3 % (read).
 * Not monotonic: 39 % is worse than 50 %.
 */
// prettier-ignore
const NAOH: Table = [[0, 0], [9.34, -8.53], [14.08, -16], [18.68, -28], [22.74, -22.4], [25.58, -14.13], [28.56, -1.33], [29.78, 1.87], [31.81, 5.07], [34.25, 10.13], [37.36, 14.67], [38.98, 15.73], [40.34, 15.47], [43.45, 11.73], [45.62, 6.13], [48.73, 9.87], [50.36, 11.73], [51.44, 12.53], [52.25, 17.33], [53.87, 26.67], [55.91, 36.8], [58.34, 45.87], [59.97, 50.4]];

/** A maker gives 14 C for 50 % (Dow, read) where the diagram gives 11.3: so much is added. */
const MARGIN_C = 3;

export function naohCrystallisationC(percent: number): number {
  return interpolate(NAOH, percent);
}

/**
 * A warning for a jar kept at a temperature, or null. For KOH and mixed alkali no freezing curve could
 * be found: the solubility is used, and below 0 C the warning says that nothing is known.
 */
export function coldStorageWarning(kind: AlkaliKind, percent: number, storageC: number): string | null {
  if (!Number.isFinite(percent) || !Number.isFinite(storageC))
    return 'Without its concentration and temperature nothing can be said: keep the jar at room temperature.';
  const warm = 'warm it slowly in lukewarm water, stir, and weigh from it only when it is clear: part of the alkali is in the crystals.';
  const limitC = naohCrystallisationC(percent) + MARGIN_C;
  if (kind !== 'KOH' && storageC < limitC) {
    return `A ${figure(percent, 1)} % sodium hydroxide solution can freeze or drop crystals below about ${figure(Math.ceil(limitC), 0)} °C; at ${figure(storageC, 0)} °C ${warm}`;
  }
  if (kind === 'NaOH') return null;
  if (percent > solubilityAtPercent(1, storageC)) return `A ${figure(percent, 1)} % solution drops crystals at ${figure(storageC, 0)} °C; ${warm}`;
  return storageC < 0 ? `No freezing curve of potassium hydroxide is at hand: do not keep the jar below 0 °C; if it has frozen, ${warm}` : null;
}
