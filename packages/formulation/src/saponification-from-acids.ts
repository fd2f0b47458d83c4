import type { AcidShare } from './acid-profile.ts';
import { normaliseProfile } from './acid-profile.ts';
import { ATOMIC_WEIGHT, KOH_G_PER_MOL } from './alkali.ts';
import { fatByKey } from './fats.ts';
import { fattyAcidRanges } from './fatty-acids.ts';
import type { Outcome } from './outcome.ts';
import { succeed } from './outcome.ts';
import type { Bounds } from './profile-bounds.ts';
import { profileBounds } from './profile-bounds.ts';

/** Glycerol less the three molecules of water lost on esterification: C3H2, 38.049 g/mol. */
const GLYCEROL_REST_G_PER_MOL = 3 * ATOMIC_WEIGHT.C + 2 * ATOMIC_WEIGHT.H;

/** Molar mass of the triglyceride of three acids of this mean molar mass, g/mol. */
export function triglycerideGPerMol(meanMolarMassGPerMol: number): number {
  return 3 * meanMolarMassGPerMol + GLYCEROL_REST_G_PER_MOL;
}

/**
 * Saponification value, mg KOH per g, of the triglyceride of a mean fatty acid: 3 * 56.105 * 1000 /
 * (3 M + 38.049). This is AOCS Cd 3a-94 (from memory) with unrounded molar masses.
 * @param meanMolarMassGPerMol of the acids, not of the glyceride
 */
export function saponificationValueOfMeanAcid(meanMolarMassGPerMol: number): number {
  return (3 * KOH_G_PER_MOL * 1000) / triglycerideGPerMol(meanMolarMassGPerMol);
}

/** Mean acid and saponification value of one composition. */
export type ProfileSaponification = { meanMolarMassGPerMol: number; svMgKohPerG: number };

/**
 * Saponification value from a measured fatty-acid composition. The mean molar mass is the mole-correct
 * one, 1 / sum(w / M): alkali counts molecules, so light acids count for more than their mass. The
 * plain mean of masses errs by up to 7 mg/g for lauric fats.
 *
 * Limit: a pure triglyceride. Free fatty acids raise the true value a little; partial glycerides and
 * unsaponifiable matter lower it. So it checks a certificate and does not replace one.
 */
export function saponificationValueFromAcids(profile: readonly AcidShare[]): Outcome<ProfileSaponification> {
  const parts = normaliseProfile(profile);
  if (!parts.ok) return parts;
  const molPerG = parts.value.reduce((sum, { acid, massShare }) => sum + massShare / acid.molarMassGPerMol, 0);
  const meanMolarMassGPerMol = 1 / molPerG;
  return succeed({ meanMolarMassGPerMol, svMgKohPerG: saponificationValueOfMeanAcid(meanMolarMassGPerMol) });
}

/**
 * Saponification values, mg KOH per g, that the published fatty-acid ranges of a fat allow. The value
 * rises with the moles of acid per gram, which is linear in the composition, so its ends are exact.
 * The low end is also lowered by the most unsaponifiable matter of the fat.
 * @returns undefined for a wax (no glycerol) and for a fat without published ranges
 */
export function saponificationRangeFromAcids(fatKey: string): Bounds | undefined {
  const ranges = fattyAcidRanges(fatKey);
  const fat = fatByKey(fatKey);
  if (!ranges || fat?.kind === 'wax') return undefined;
  const molPerG = profileBounds(ranges.acids, (acid) => 1 / acid.molarMassGPerMol);
  if (!molPerG) return undefined;
  const saponifiable = 1 - (fat?.unsaponifiableMaxGPerKg ?? 0) / 1000;
  return { low: saponificationValueOfMeanAcid(1 / molPerG.low) * saponifiable, high: saponificationValueOfMeanAcid(1 / molPerG.high) };
}
