import { checkNumber, figure } from './check-number.ts';
import { checkRecipe } from './check-recipe.ts';
import { asStated, bandInput, figuresOf } from './figures.ts';
import { recipeLines } from './masses.ts';
import type { Interval, Outcome } from './outcome.ts';
import { refuse, succeed } from './outcome.ts';
import type { Formula, Purity, RecipeInput, Warning } from './recipe.ts';
import { superfatBand } from './superfat-band.ts';
import { warningsFor } from './warnings.ts';

/** 10 g to 100 kg of fat: less cannot be weighed at a bench, more is not a class. */
const FAT_MASS = { name: 'The fat mass', unit: 'mg', min: 10_000, max: 100_000_000 } as const;

/** One kilogram: a published recipe is shown for this much fat. */
const SHOWN_FAT_MASS_MG = 1_000_000;

/**
 * Works a recipe out for a mass of fat (mg, default 1 kg): lines, superfat band, peak temperature,
 * volume and warnings. Refuses with every problem found; pointers are into the recipe ("/purity/..."
 * and "/fatMassMg" for the other arguments).
 *
 * Here the band holds oil variability and alkali purity only. A band that reaches under the floor is
 * a warning at this stage, because no card can come of it: `planWeighing` refuses.
 */
export function formulate(recipe: RecipeInput, purity: Purity, fatMassMg = SHOWN_FAT_MASS_MG): Outcome<Formula> {
  const problems = [...checkRecipe(recipe, purity), ...checkNumber(fatMassMg, '/fatMassMg', FAT_MASS)];
  if (problems.length > 0) return refuse(problems);
  const lines = recipeLines(recipe, purity, fatMassMg);
  const input = bandInput(recipe, purity, lines, asStated);
  const band = superfatBand(input);
  const figures = figuresOf(recipe, lines);
  return succeed({
    ...figures,
    lines,
    superfatBandPercent: band,
    warnings: [...floorWarning(recipe, band), ...warningsFor({ recipe, purity, lines, figures, input })],
  });
}

function floorWarning(recipe: RecipeInput, band: Interval): Warning[] {
  if (band.low >= recipe.superfatFloorPercent) return [];
  const detail = `Before any weighing the superfat can be as low as ${figure(band.low, 1)} %, under the floor of ${figure(recipe.superfatFloorPercent, 1)} %: no weigh card can be issued. Raise the superfat or enter certificates.`;
  return [{ code: 'superfat-band-below-floor', detail }];
}
