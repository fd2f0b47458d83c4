import type { Fat } from './fats.ts';
import { kohSolutionDensity } from './koh-solution.ts';
import { naohSolutionDensity } from './naoh-solution.ts';
import type { Interval } from './outcome.ts';

/**
 * Volume of freshly mixed batter at 40 C by additive volumes: each part keeps the volume it had.
 *
 * Error of the model. Fats: the published density range, brought to 40 C by 0.0007 g/mL per C (from
 * memory, oils in general). Lye solution: 0.5 %. Dry matter of milk and other liquids: 1.0 to 1.6
 * g/mL. An additive without a density: 0.8 to 2.0 g/mL. Shrinking on mixing and saponification, and
 * air stirred in, are left out: 2 % either way is added for them (judgement, no source).
 */
const BATTER_C = 40;
const FAT_G_PER_ML_PER_C = 0.0007;
const MODEL_ERROR = 0.02;
const LYE_ERROR = 0.005;
const DRY_MATTER_G_PER_ML: Interval = { low: 1, nominal: 1.3, high: 1.6 };
const UNKNOWN_ADDITIVE_G_PER_ML: Interval = { low: 0.8, nominal: 1.1, high: 2 };

/** Masses in mg; `waterMg` is all water, `dryMatterMg` what other liquids hold besides water. */
export type VolumeInput = {
  fats: { fat: Fat | undefined; massMg: number }[];
  naohMg: number;
  kohMg: number;
  waterMg: number;
  dryMatterMg: number;
  additives: { massMg: number; densityGPerMl?: number | undefined }[];
};

/** Published density moved along the usual slope of oils to the temperature of the batter, g/mL. */
function fatDensityAtBatter(fat: Fat | undefined): Interval {
  if (!fat) return { low: 0.9, nominal: 0.91, high: 0.92 };
  const shift = (fat.densityTemperatureC - BATTER_C) * FAT_G_PER_ML_PER_C;
  const { low, nominal, high } = fat.densityGPerMl;
  return { low: low + shift, nominal: nominal + shift, high: high + shift };
}

/** Mixed alkali: the two solutions at the same mass fraction, weighted by alkali. */
function lyeDensity(naohMg: number, kohMg: number, waterMg: number): number {
  const alkali = naohMg + kohMg;
  const fraction = alkali / (alkali + waterMg);
  const kohShare = alkali > 0 ? kohMg / alkali : 0;
  return naohSolutionDensity(fraction, BATTER_C) * (1 - kohShare) + kohSolutionDensity(fraction, BATTER_C) * kohShare;
}

/** Volume in mL; low and high are worst cases over the densities and the model error. */
export function batchVolumeMl(input: VolumeInput): Interval {
  const lye = lyeDensity(input.naohMg, input.kohMg, input.waterMg);
  const parts: { massMg: number; density: Interval }[] = [
    ...input.fats.map((fat) => ({ massMg: fat.massMg, density: fatDensityAtBatter(fat.fat) })),
    {
      massMg: input.naohMg + input.kohMg + input.waterMg,
      density: { low: lye * (1 - LYE_ERROR), nominal: lye, high: lye * (1 + LYE_ERROR) },
    },
    { massMg: input.dryMatterMg, density: DRY_MATTER_G_PER_ML },
    ...input.additives.map(({ massMg, densityGPerMl: known }) => ({
      massMg,
      density: known ? { low: known, nominal: known, high: known } : UNKNOWN_ADDITIVE_G_PER_ML,
    })),
  ];
  const volume = (end: keyof Interval): number => parts.reduce((sum, part) => sum + part.massMg / 1000 / part.density[end], 0);
  return {
    low: volume('high') * (1 - MODEL_ERROR),
    nominal: volume('nominal'),
    high: volume('low') * (1 + MODEL_ERROR),
  };
}
