import { FAT_ROWS, FAT_SOURCES } from './fats-data.ts';
import type { Interval } from './outcome.ts';

/**
 * A fat of the catalogue. The saponification value (SV) is the mass of potassium hydroxide, in mg,
 * that saponifies one gram of the fat (ISO 3657). Published ranges cover every acceptable lot, so
 * they are used as worst-case limits, and their midpoint as the nominal value.
 */
export type Fat = {
  key: string;
  name: string;
  botanicalName: string;
  /** mg KOH per g fat; nominal is the midpoint of the published range. */
  saponificationValue: Interval;
  /** g iodine per 100 g; absent where only one end is published. */
  iodineValue?: { low: number; high: number };
  densityGPerMl: Interval;
  densityTemperatureC: number;
  source: string;
  provenance: 'read' | 'from memory';
  /** A wax ester saponifies slowly and not fully without long heating. */
  kind: 'fat' | 'wax';
};

const WAXES: ReadonlySet<string> = new Set(['jojoba']);

function aroundMidpoint([low, high]: readonly [number, number]): Interval {
  return { low, nominal: (low + high) / 2, high };
}

export const FATS: readonly Fat[] = FAT_ROWS.map(([key, name, botanicalName, sv, iv, density, densityTemperatureC, source, provenance]): Fat => ({
  key,
  name,
  botanicalName,
  saponificationValue: aroundMidpoint(sv),
  ...(iv ? { iodineValue: { low: iv[0], high: iv[1] } } : {}),
  densityGPerMl: aroundMidpoint(density),
  densityTemperatureC,
  source: FAT_SOURCES[source] ?? 'unknown',
  provenance,
  kind: WAXES.has(key) ? 'wax' : 'fat',
}));

const BY_KEY: ReadonlyMap<string, Fat> = new Map(FATS.map((fat) => [fat.key, fat]));

/** The fat with this key, or undefined; keys are lower case, e.g. "olive", "palm_kernel". */
export function fatByKey(key: string): Fat | undefined {
  return BY_KEY.get(key);
}
