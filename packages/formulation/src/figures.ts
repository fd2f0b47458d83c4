import { acidByKey, kohTakenPerMg } from './acids.ts';
import { batchVolumeMl } from './batch-volume.ts';
import { fatOfShare } from './fat-of-share.ts';
import { massOf, saponificationValueOf, totalMg, waterInLiquidsMg } from './masses.ts';
import type { OpenPot } from './ice-for-limit.ts';
import type { Interval } from './outcome.ts';
import type { LyePot } from './peak-temperature.ts';
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
    ...(recipe.acids && recipe.acids.length > 0
      ? { acids: recipe.acids.map((acid) => ({ massMg: massFor(`acid:${acid.acidKey}`), takesKohPerMg: kohTakenPerMg(acid.acidKey, acid.strengthPercent) })) }
      : {}),
    naohMg: massFor('naoh'),
    kohMg: massFor('koh'),
    purity,
  };
}

/** The part of a formula that follows from its lines alone, so that a plan can share it. */
export type Figures = Pick<
  Formula,
  'fatMassMg' | 'alkaliMassMg' | 'waterMassMg' | 'iceMassMg' | 'batchMassMg' | 'volumeMl' | 'lyeConcentrationPercent' | 'potConcentrationPercent' | 'peak'
>;

/**
 * What is in the lye pot: alkali, water, ice, the water of other liquids, and acids; nothing that goes
 * into the fats. Masses mg, temperatures C. Dry matter of liquids takes up no heat here, which errs to
 * the hot side.
 */
export function potOf(recipe: RecipeInput, lines: readonly Line[]): LyePot {
  const inPot = lines.filter((line) => line.into !== 'fats');
  const acidKohMg = (recipe.acids ?? []).reduce(
    (sum, acid) => sum + massOf(lines, `acid:${acid.acidKey}`) * kohTakenPerMg(acid.acidKey, acid.strengthPercent).high,
    0,
  );
  return {
    naohMg: massOf(lines, 'naoh'),
    kohMg: massOf(lines, 'koh'),
    waterMg: massOf(lines, 'water') + Math.round(waterInLiquidsMg(inPot)),
    waterTemperatureC: recipe.waterTemperatureC,
    iceMg: massOf(lines, 'ice'),
    iceTemperatureC: recipe.iceTemperatureC,
    ...(acidKohMg > 0 ? { acidKohMg } : {}),
  };
}

/** The same pot with its ice still open: the plain water may become ice, other liquids stay as they are. */
export function openPotOf(recipe: RecipeInput, lines: readonly Line[]): OpenPot {
  const { waterMg, iceMg, ...rest } = potOf(recipe, lines);
  const plainMg = massOf(lines, 'water');
  return { ...rest, plainWaterMg: plainMg + iceMg, liquidWaterMg: Math.max(0, waterMg - plainMg) };
}

/**
 * Water that an acid as weighed brings along, mg: what is not acid in its solution. It counts in the
 * volume only; in the pot it would make the lye thinner and cooler, and no credit is taken for that.
 */
function waterInAcidsMg(recipe: RecipeInput, lines: readonly Line[]): number {
  const acids = (recipe.acids ?? []).filter((acid) => acidByKey(acid.acidKey)?.takesAlkali);
  return Math.round(acids.reduce((sum, acid) => sum + (massOf(lines, `acid:${acid.acidKey}`) * (100 - acid.strengthPercent.nominal)) / 100, 0));
}

/**
 * Totals, volume, concentration and peak temperature of these lines, whether exact or rounded. Other
 * liquids count as water at the water temperature by their water content; their dry matter takes up
 * no heat, which errs to the hot side. Masses in mg, temperature in C, volume in mL.
 */
export function figuresOf(recipe: RecipeInput, lines: readonly Line[]): Figures {
  const pot = potOf(recipe, lines);
  const { naohMg, kohMg, iceMg } = pot;
  const liquidsMg = totalMg(lines, 'liquid');
  const fromLiquidsMg = Math.round(waterInLiquidsMg(lines));
  const waterMassMg = massOf(lines, 'water') + fromLiquidsMg + iceMg;
  const fromAcidsMg = waterInAcidsMg(recipe, lines);
  const alkaliMassMg = naohMg + kohMg;
  return {
    fatMassMg: totalMg(lines, 'fat'),
    alkaliMassMg,
    waterMassMg,
    iceMassMg: iceMg,
    batchMassMg: lines.reduce((sum, line) => sum + line.massMg, 0),
    lyeConcentrationPercent: (100 * alkaliMassMg) / (alkaliMassMg + waterMassMg),
    potConcentrationPercent: (100 * alkaliMassMg) / (alkaliMassMg + pot.waterMg + iceMg),
    volumeMl: batchVolumeMl({
      fats: recipe.fats.map((fat) => ({ fat: fatOfShare(fat), massMg: massOf(lines, `fat:${fat.fatKey}`) })),
      naohMg,
      kohMg,
      waterMg: waterMassMg + fromAcidsMg,
      dryMatterMg: liquidsMg - fromLiquidsMg + totalMg(lines, 'acid') - fromAcidsMg,
      additives: recipe.additives.map((additive, index) => ({
        massMg: massOf(lines, `additive:${index}`),
        densityGPerMl: additive.densityGPerMl,
      })),
    }),
    peak: peakTemperature(pot),
  };
}
