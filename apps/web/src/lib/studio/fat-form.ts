import type { FatOut } from '@ashwater/contracts';

/** The fields of the form for a fat of one's own, by the names of the API. */
export const FAT_FIELDS = [
  'name',
  'botanicalName',
  'svLow',
  'svHigh',
  'iodineLow',
  'iodineHigh',
  'densityGPerMl',
  'unsaponifiablePercent',
  'source',
  'sourceOn',
] as const;

type Range = { low: number; high: number };
/** "182 to 198", or one figure where both ends are the same. */
export const rangeOf = ({ low, high }: Range): string => (low === high ? String(low) : `${low} to ${high}`);

/** What is known of a fat besides its saponification value; a figure nobody gave is not mentioned as zero. */
export function otherFigures(fat: Pick<FatOut, 'iodineValue' | 'densityGPerMl' | 'unsaponifiablePercent'>): string {
  const parts = [
    fat.iodineValue && `iodine value ${rangeOf(fat.iodineValue)} g/100 g`,
    fat.densityGPerMl !== null && `density ${fat.densityGPerMl} g/mL`,
    fat.unsaponifiablePercent !== null && `unsaponifiable ${fat.unsaponifiablePercent} %`,
  ].filter((part) => typeof part === 'string');
  return parts.length > 0 ? parts.join(', ') : 'none given';
}
