import { checkAssay, checkNumber, figure } from './check-number.ts';
import { checkFats } from './check-fats.ts';
import { liquidByKey } from './liquids.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import type { Additive, Purity, RecipeInput } from './recipe.ts';
import { checkSolubility } from './solubility.ts';

/*
 * Bounds of what a studio does, ours unless a source is named. They stop slips of the finger, not
 * taste: every refusal says the value and the range.
 */
const SUPERFAT = { unit: '%', min: 0, max: 30 } as const;
const CONCENTRATION = { unit: '%', min: 15, max: 100 } as const;
/** Lye into hot water boils over at once, so warm tap water is the most that is planned. */
const WATER_TEMPERATURE = { unit: '°C', min: 0, max: 45 } as const;
const ICE_TEMPERATURE = { unit: '°C', min: -40, max: 0 } as const;

/** Alkali mix, superfat and its floor, concentration; a floor above the aim can never be met. */
function checkAims(recipe: RecipeInput): FormulationProblem[] {
  const problems = [
    ...checkNumber(recipe.alkali.kohSharePercent, '/alkali/kohSharePercent', {
      name: 'The potassium hydroxide share',
      unit: '%',
      min: 0,
      max: 100,
    }),
    ...checkNumber(recipe.superfatPercent, '/superfatPercent', { name: 'The superfat', ...SUPERFAT }),
    ...checkNumber(recipe.superfatFloorPercent, '/superfatFloorPercent', { name: 'The superfat floor', ...SUPERFAT }),
    ...checkNumber(recipe.lyeConcentrationPercent, '/lyeConcentrationPercent', {
      name: 'The lye concentration',
      ...CONCENTRATION,
    }),
  ];
  if (recipe.superfatFloorPercent > recipe.superfatPercent) {
    const detail = `The superfat floor (${figure(recipe.superfatFloorPercent)} %) is above the superfat aim (${figure(recipe.superfatPercent)} %); raise the aim or lower the floor.`;
    problems.push(problem('value-out-of-range', '/superfatFloorPercent', detail));
  }
  return problems;
}

/** Ice is a share of the plain water, so more than all of it is its own problem with its own words. */
function checkWater(recipe: RecipeInput): FormulationProblem[] {
  const problems = [
    ...checkNumber(recipe.waterTemperatureC, '/waterTemperatureC', { name: 'The water temperature', ...WATER_TEMPERATURE }),
    ...checkNumber(recipe.iceTemperatureC, '/iceTemperatureC', { name: 'The ice temperature', ...ICE_TEMPERATURE }),
  ];
  if (recipe.iceSharePercent > 100) {
    const detail = `Ice is ${figure(recipe.iceSharePercent)} % of the plain water; it cannot be more than all of it (100 %).`;
    problems.push(problem('ice-over-water', '/iceSharePercent', detail));
  } else {
    problems.push(...checkNumber(recipe.iceSharePercent, '/iceSharePercent', { name: 'The ice share', unit: '%', min: 0, max: 100 }));
  }
  return problems;
}

/** Liquids may supply all of the water but not more; 0.01 % is left for thirds and sixths. */
function checkLiquids(liquids: RecipeInput['liquids']): FormulationProblem[] {
  const problems = liquids.flatMap((entry, index) => {
    const pointer = `/liquids/${index}`;
    const found = checkNumber(entry.shareOfWaterPercent, `${pointer}/shareOfWaterPercent`, {
      name: `The water share of liquid ${index + 1}`,
      unit: '%',
      min: 0.1,
      max: 100,
    });
    if (!liquidByKey(entry.liquidKey)) {
      found.push(problem('liquid-unknown', `${pointer}/liquidKey`, `There is no liquid "${entry.liquidKey}" in the list; choose one of it.`));
    }
    if (liquids.findIndex((other) => other.liquidKey === entry.liquidKey) < index) {
      found.push(problem('liquid-twice', `${pointer}/liquidKey`, `Liquid "${entry.liquidKey}" is listed twice; put its share in one line.`));
    }
    return found;
  });
  const sum = liquids.reduce((total, entry) => total + entry.shareOfWaterPercent, 0);
  if (sum > 100.01) {
    const detail = `The liquids supply ${figure(sum)} % of the water; take ${figure(sum - 100)} % away.`;
    problems.push(problem('value-out-of-range', '/liquids', detail, { sumPercent: sum }));
  }
  return problems;
}

/**
 * An additive over its supplier's limit is refused, not trimmed: fragrance limits protect skin, and
 * the author must choose. The limit is a share of the fat, as the dose is.
 */
function checkAdditive(additive: Additive, index: number): FormulationProblem[] {
  const pointer = `/additives/${index}`;
  const name = additive.name.trim();
  const problems = checkNumber(additive.shareOfFatPercent, `${pointer}/shareOfFatPercent`, {
    name: `The share of ${name === '' ? `additive ${index + 1}` : name}`,
    unit: '%',
    min: 0.001,
    max: 50,
  });
  if (name === '') problems.push(problem('value-missing', `${pointer}/name`, `Additive ${index + 1} has no name; say what it is.`));
  if (additive.limitPercent !== undefined) {
    problems.push(...checkNumber(additive.limitPercent, `${pointer}/limitPercent`, { name: `The limit of ${name}`, unit: '%', min: 0.001, max: 100 }));
    if (additive.shareOfFatPercent > additive.limitPercent) {
      const detail = `${name} is ${figure(additive.shareOfFatPercent, 3)} % of the fat; its limit is ${figure(additive.limitPercent, 3)} %. Use ${figure(additive.shareOfFatPercent - additive.limitPercent, 3)} % less.`;
      problems.push(problem('additive-over-limit', `${pointer}/shareOfFatPercent`, detail));
    }
  }
  if (additive.densityGPerMl !== undefined) {
    problems.push(...checkNumber(additive.densityGPerMl, `${pointer}/densityGPerMl`, { name: `The density of ${name}`, unit: 'g/mL', min: 0.1, max: 20 }));
  }
  return problems;
}

/**
 * Everything wrong with a recipe and the purity of its lots, in the order of the recipe; empty when
 * it can be worked out. Pointers of purity problems begin with "/purity".
 */
export function checkRecipe(recipe: RecipeInput, purity: Purity): FormulationProblem[] {
  const koh = recipe.alkali.kohSharePercent;
  return [
    ...checkFats(recipe.fats),
    ...checkAims(recipe),
    ...checkSolubility(recipe.lyeConcentrationPercent, Number.isFinite(koh) ? Math.min(1, Math.max(0, koh / 100)) : 0),
    ...checkWater(recipe),
    ...checkLiquids(recipe.liquids),
    ...recipe.additives.flatMap(checkAdditive),
    ...checkAssay(purity.naohPercent, '/purity/naohPercent', 'The purity of the sodium hydroxide'),
    ...checkAssay(purity.kohPercent, '/purity/kohPercent', 'The purity of the potassium hydroxide'),
  ];
}
