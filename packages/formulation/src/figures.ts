import { batchVolumeMl } from './batch-volume.ts';
import { massOf, saponificationValueOf, totalMg, waterInLiquidsMg } from './masses.ts';
import type { Interval } from './outcome.ts';
import { peakTemperature } from './peak-temperature.ts';
import type { Formula, Line, Purity, RecipeInput } from './recipe.ts';
import type { BandInput } from './superfat-band.ts';
import { exactly } from './superfat-band.ts';

/** Ends of what the true mass of a line can be, mg. */
export type TrueMass<L extends Line> = (line: L) => Interval;

/** Masses taken as exact: the band of a recipe before any scale is known. */
export const asStated: TrueMass<Line> = (line) => exactly(line.massMg);

/**
 * What the superfat band needs, from lines and how wrong each can be. A line that is left out because
 * it has no mass (NaOH in a potassium soap) counts as exactly zero.
 * @param trueMass `asStated` for a recipe; the accepted range and scale error for a weigh plan
 */
export function bandInput<L extends Line>(recipe: RecipeInput, purity: Purity, lines: readonly L[], trueMass: TrueMass<L>): BandInput {
  const massFor = (key: string): Interval => {
    const line = lines.find((each) => each.key === key);
    return line ? trueMass(line) : exactly(0);
  };
  return {
    fats: recipe.fats.map((fat) => ({
      massMg: massFor(`fat:${fat.fatKey}`),
      saponificationValue: saponificationValueOf(fat),
    })),
    naohMg: massFor('naoh'),
    kohMg: massFor('koh'),
    purity,
  };
}

/** The part of a formula that follows from its lines alone, so that a plan can share it. */
export type Figures = Pick<
  Formula,
  'fatMassMg' | 'alkaliMassMg' | 'waterMassMg' | 'iceMassMg' | 'batchMassMg' | 'volumeMl' | 'lyeConcentrationPercent' | 'peak'
>;

/**
 * Totals, volume, concentration and peak temperature of these lines, whether exact or rounded. Other
 * liquids count as water at the water temperature by their water content; their dry matter takes up
 * no heat, which errs to the hot side. Masses in mg, temperature in C, volume in mL.
 */
export function figuresOf(recipe: RecipeInput, lines: readonly Line[]): Figures {
  const naohMg = massOf(lines, 'naoh');
  const kohMg = massOf(lines, 'koh');
  const iceMg = massOf(lines, 'ice');
  const liquidsMg = totalMg(lines, 'liquid');
  const fromLiquidsMg = Math.round(waterInLiquidsMg(lines));
  const liquidWaterMg = massOf(lines, 'water') + fromLiquidsMg;
  const waterMassMg = liquidWaterMg + iceMg;
  const alkaliMassMg = naohMg + kohMg;
  return {
    fatMassMg: totalMg(lines, 'fat'),
    alkaliMassMg,
    waterMassMg,
    iceMassMg: iceMg,
    batchMassMg: lines.reduce((sum, line) => sum + line.massMg, 0),
    lyeConcentrationPercent: (100 * alkaliMassMg) / (alkaliMassMg + waterMassMg),
    volumeMl: batchVolumeMl({
      fats: recipe.fats.map((fat) => ({ fatKey: fat.fatKey, massMg: massOf(lines, `fat:${fat.fatKey}`) })),
      naohMg,
      kohMg,
      waterMg: waterMassMg,
      dryMatterMg: liquidsMg - fromLiquidsMg,
      additives: recipe.additives.map((additive, index) => ({
        massMg: massOf(lines, `additive:${index}`),
        densityGPerMl: additive.densityGPerMl,
      })),
    }),
    peak: peakTemperature({
      naohMg,
      kohMg,
      waterMg: liquidWaterMg,
      waterTemperatureC: recipe.waterTemperatureC,
      iceMg,
      iceTemperatureC: recipe.iceTemperatureC,
    }),
  };
}
