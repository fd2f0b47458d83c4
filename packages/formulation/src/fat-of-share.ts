import type { Fat } from './fats.ts';
import { fatByKey } from './fats.ts';
import type { FatShare } from './recipe.ts';

/** Density of oils in general, g/mL at 20 C (Codex CXS 210: 0.88 to 0.96 over its fats), where a studio gives none. */
const ANY_FAT_G_PER_ML = { low: 0.88, nominal: 0.92, high: 0.96 };

/**
 * The fat a line of a recipe is of: the studio's own figures when it has them, else the catalogue's.
 * A range is a worst case and its midpoint the nominal value, as in the catalogue. Undefined when the
 * key is in no list.
 */
export function fatOfShare(share: Pick<FatShare, 'fatKey' | 'own'>): Fat | undefined {
  const { own } = share;
  if (!own) return fatByKey(share.fatKey);
  const { low, high } = own.saponificationValue;
  const density = own.densityGPerMl;
  return {
    key: share.fatKey,
    name: own.name,
    botanicalName: '',
    saponificationValue: { low, nominal: (low + high) / 2, high },
    ...(own.iodineValue ? { iodineValue: own.iodineValue } : {}),
    densityGPerMl: density === undefined ? ANY_FAT_G_PER_ML : { low: density, nominal: density, high: density },
    densityTemperatureC: 20,
    ...(own.unsaponifiablePercent === undefined ? {} : { unsaponifiableMaxGPerKg: own.unsaponifiablePercent * 10 }),
    source: 'figures the studio entered',
    provenance: 'read',
    kind: 'fat',
  };
}
