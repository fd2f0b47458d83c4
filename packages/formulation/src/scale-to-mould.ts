import { checkNumber } from './check-number.ts';
import { checkRecipe } from './check-recipe.ts';
import { figuresOf } from './figures.ts';
import { formulate } from './formulate.ts';
import { recipeLines } from './masses.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { refuse } from './outcome.ts';
import type { Formula, Purity, RecipeInput } from './recipe.ts';

/** Inner volume of a mould in mL; `fillPercent` (default 100) is how far it is filled. */
export type Mould = { volumeMl: number; fillPercent?: number };

export function checkMould(mould: Mould): FormulationProblem[] {
  const fill = mould.fillPercent ?? 100;
  return [
    ...checkNumber(mould.volumeMl, '/mould/volumeMl', { name: 'The mould volume', unit: 'mL', min: 20, max: 100_000 }),
    ...checkNumber(fill, '/mould/fillPercent', { name: 'The mould filling', unit: '%', min: 10, max: 100 }),
  ];
}

/** Large enough that rounding to whole mg does not show in the ratio. */
const REFERENCE_FAT_MG = 100_000_000;

/** Mass of fat, mg, whose batter fills the mould by the nominal volume, its allowance counted in; checked inputs only. */
export function fatMassForMould(recipe: RecipeInput, purity: Purity, mould: Mould): number {
  const reference = figuresOf(recipe, recipeLines(recipe, purity, REFERENCE_FAT_MG));
  const { shrinkPercent, wastePercent } = recipe.allowance ?? { shrinkPercent: 0, wastePercent: 0 };
  const wantedMl = (mould.volumeMl * (mould.fillPercent ?? 100)) / 100 / (1 - shrinkPercent / 100) / (1 - wastePercent / 100);
  return Math.round((REFERENCE_FAT_MG * wantedMl) / reference.volumeMl.nominal);
}

/**
 * The recipe scaled so that the nominal batter volume fills the mould. Everything scales with the
 * fat, so one division is exact; the volume itself is a model, good to a few percent: the answer's
 * `volumeMl` says from where to where. Leave room with `fillPercent` when overflow matters.
 */
export function scaleToMould(recipe: RecipeInput, purity: Purity, mould: Mould): Outcome<Formula> {
  const problems = [...checkRecipe(recipe, purity), ...checkMould(mould)];
  if (problems.length > 0) return refuse(problems);
  return formulate(recipe, purity, fatMassForMould(recipe, purity, mould));
}
