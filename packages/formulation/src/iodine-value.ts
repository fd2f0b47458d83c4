import type { AcidShare } from './acid-profile.ts';
import { normaliseProfile } from './acid-profile.ts';
import type { FattyAcid } from './fatty-acids.ts';
import { fattyAcidRanges } from './fatty-acids.ts';
import type { Outcome } from './outcome.ts';
import { succeed } from './outcome.ts';
import type { Bounds } from './profile-bounds.ts';
import { profileBounds } from './profile-bounds.ts';
import { triglycerideGPerMol } from './saponification-from-acids.ts';

/** Factors printed in AOCS Cd 1c-85 for triglycerides, g iodine per g of acid. */
const AOCS_FACTOR: Readonly<Record<string, number>> = { '16:1': 0.95, '18:1': 0.86, '18:2': 1.732, '18:3': 2.616, '20:1': 0.785, '22:1': 0.723 };

/** Molar mass of I2 from the standard atomic weight of iodine, 126.90447. */
const IODINE_G_PER_MOL = 2 * 126.90447;

/**
 * Iodine that one percent of an acid adds to the iodine value of its triglyceride: one I2 for each
 * double bond. The printed factor of the method where it has one; the same arithmetic where not (14:1,
 * 17:1, ricinoleic, 20:2, 20:4, 22:2, 24:1).
 */
export function iodineFactor(acid: FattyAcid): number {
  const printed = AOCS_FACTOR[acid.code];
  if (printed !== undefined) return printed;
  return (3 * acid.doubleBonds * IODINE_G_PER_MOL) / triglycerideGPerMol(acid.molarMassGPerMol);
}

/**
 * Iodine value, g iodine per 100 g, from a measured fatty-acid composition (AOCS Cd 1c-85). The method
 * itself warns that it reads low for fats with over 0.5 % unsaponifiable matter and for low values.
 */
export function iodineValueFromAcids(profile: readonly AcidShare[]): Outcome<{ iodineValue: number }> {
  const parts = normaliseProfile(profile);
  if (!parts.ok) return parts;
  return succeed({ iodineValue: parts.value.reduce((sum, { acid, massShare }) => sum + 100 * massShare * iodineFactor(acid), 0) });
}

/** Iodine values, g per 100 g, that the published fatty-acid ranges of a fat allow; undefined without ranges. */
export function iodineRangeFromAcids(fatKey: string): Bounds | undefined {
  const ranges = fattyAcidRanges(fatKey);
  const perPercent = ranges && profileBounds(ranges.acids, iodineFactor);
  return perPercent && { low: 100 * perPercent.low, high: 100 * perPercent.high };
}
