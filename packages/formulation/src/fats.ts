import type { FatRow } from './fats-data.ts';
import { FAT_CAUTIONS, FAT_ROWS, FAT_SOURCES } from './fats-data.ts';
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
  /** The one end a standard sets, g iodine per 100 g; absent where both are known or none. */
  iodineValueLimit?: { atLeast: number } | { atMost: number };
  densityGPerMl: Interval;
  densityTemperatureC: number;
  source: string;
  provenance: 'read' | 'from memory';
  /** A wax ester saponifies slowly and not fully without long heating. */
  kind: 'fat' | 'wax';
  /** Most matter, g per kg, that takes up no alkali; the saponification value already counts it. */
  unsaponifiableMaxGPerKg?: number;
  /** A whole sentence on how far to trust the row. */
  caution?: string;
};

const WAXES: ReadonlySet<string> = new Set(['jojoba', 'beeswax']);

function aroundMidpoint([low, high]: readonly [number, number]): Interval {
  return { low, nominal: (low + high) / 2, high };
}

function iodineOf(range: FatRow[4]): Pick<Fat, 'iodineValue' | 'iodineValueLimit'> {
  const [low, high] = range ?? [null, null];
  if (low !== null && high !== null) return { iodineValue: { low, high } };
  if (low !== null) return { iodineValueLimit: { atLeast: low } };
  return high === null ? {} : { iodineValueLimit: { atMost: high } };
}

function fatOf([key, name, botanicalName, sv, iodine, density, densityTemperatureC, unsaponifiable, source, provenance]: FatRow): Fat {
  const caution = FAT_CAUTIONS[key];
  return {
    key,
    name,
    botanicalName,
    saponificationValue: aroundMidpoint(sv),
    ...iodineOf(iodine),
    densityGPerMl: aroundMidpoint(density),
    densityTemperatureC,
    ...(unsaponifiable === null ? {} : { unsaponifiableMaxGPerKg: unsaponifiable }),
    source: FAT_SOURCES[source] ?? 'unknown',
    provenance,
    kind: WAXES.has(key) ? 'wax' : 'fat',
    ...(caution === undefined ? {} : { caution }),
  };
}

export const FATS: readonly Fat[] = FAT_ROWS.map(fatOf);

const BY_KEY: ReadonlyMap<string, Fat> = new Map(FATS.map((fat) => [fat.key, fat]));

/** The fat with this key, or undefined; keys are lower case, e.g. "olive", "palm_kernel". */
export function fatByKey(key: string): Fat | undefined {
  return BY_KEY.get(key);
}
