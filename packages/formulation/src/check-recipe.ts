import { acidByKey } from './acids.ts';
import { checkAssay, checkNumber, figure } from './check-number.ts';
import { checkFats } from './check-fats.ts';
import { liquidByKey } from './liquids.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import type { AcidShare, Additive, Purity, RecipeInput } from './recipe.ts';
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
  if (problems.length === 0 && recipe.superfatFloorPercent > recipe.superfatPercent) {
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

/**
 * Water that stays in the lye pot, as a share of all water: what goes into the fats dissolves no alkali.
 * Pointers are into the liquids, since there it is put right.
 */
function checkPot(recipe: RecipeInput, kohShare: number): FormulationProblem[] {
  const intoFats = recipe.liquids.reduce((sum, entry) => sum + (entry.shareOfWaterPercent * (entry.intoFatsPercent ?? 0)) / 10_000, 0);
  const { lyeConcentrationPercent: whole } = recipe;
  if (!(intoFats > 0 && whole > 0 && whole < 100)) return [];
  const potPercent = 100 / (1 + (Math.max(0, 1 - intoFats) * (100 - whole)) / whole);
  return checkSolubility(potPercent, kohShare).map((each) => ({
    ...each,
    pointer: '/liquids',
    detail: `With ${figure(100 * intoFats, 1)} % of the water in the fats the lye pot is at ${figure(potPercent, 1)} %: leave more liquid in it. ${each.detail}`,
  }));
}

/** Acids: known, once each, a share and a strength that can be meant; a salt among them is only weighed. */
function checkAcid(acid: AcidShare, index: number, all: readonly AcidShare[]): FormulationProblem[] {
  const pointer = `/acids/${index}`;
  const known = acidByKey(acid.acidKey);
  const name = known?.name ?? `acid ${index + 1}`;
  const problems = checkNumber(acid.shareOfFatPercent, `${pointer}/shareOfFatPercent`, { name: `The share of ${name}`, unit: '%', min: 0.01, max: 10 });
  if (!known) problems.push(problem('value-out-of-range', `${pointer}/acidKey`, `There is no acid "${acid.acidKey}" in the list; choose one of it.`));
  if (all.findIndex((other) => other.acidKey === acid.acidKey) < index) {
    problems.push(problem('value-out-of-range', `${pointer}/acidKey`, `${name} is listed twice; put its whole share in one line.`));
  }
  const { low, nominal, high } = acid.strengthPercent;
  const strength = { name: `The strength of ${name}`, unit: '%', min: 0.1, max: 100 };
  problems.push(...[low, nominal, high].flatMap((end) => checkNumber(end, `${pointer}/strengthPercent`, strength)).slice(0, 1));
  if (low > nominal || nominal > high)
    problems.push(problem('value-out-of-range', `${pointer}/strengthPercent`, `The strength of ${name} must run from low to high.`));
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
    if (entry.intoFatsPercent !== undefined) {
      const name = `The share of liquid ${index + 1} for the fats`;
      found.push(...checkNumber(entry.intoFatsPercent, `${pointer}/intoFatsPercent`, { name, unit: '%', min: 0, max: 100 }));
    }
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
    if (problems.length === 0 && additive.shareOfFatPercent > additive.limitPercent) {
      const detail = `${name} is ${figure(additive.shareOfFatPercent, 3)} % of the fat; its limit is ${figure(additive.limitPercent, 3)} %. Use ${figure(additive.shareOfFatPercent - additive.limitPercent, 3)} % less.`;
      problems.push(problem('additive-over-limit', `${pointer}/shareOfFatPercent`, detail));
    }
  }
  if (additive.densityGPerMl !== undefined) {
    problems.push(...checkNumber(additive.densityGPerMl, `${pointer}/densityGPerMl`, { name: `The density of ${name}`, unit: 'g/mL', min: 0.1, max: 20 }));
  }
  return problems;
}

/** How much is lost is the studio's own experience; a third is more than any batch. */
function checkAllowance(allowance: RecipeInput['allowance']): FormulationProblem[] {
  if (!allowance) return [];
  const few = { unit: '%', min: 0, max: 30 } as const;
  return [
    ...checkNumber(allowance.shrinkPercent, '/allowance/shrinkPercent', { name: 'The shrinkage', ...few }),
    ...checkNumber(allowance.wastePercent, '/allowance/wastePercent', { name: 'What stays in the pot', ...few }),
  ];
}

/**
 * Everything wrong with a recipe and the purity of its lots, in the order of the recipe; empty when
 * it can be worked out. Pointers of purity problems begin with "/purity".
 */
export function checkRecipe(recipe: RecipeInput, purity: Purity): FormulationProblem[] {
  const koh = recipe.alkali.kohSharePercent;
  const kohShare = Number.isFinite(koh) ? Math.min(1, Math.max(0, koh / 100)) : 0;
  const tooStrong = checkSolubility(recipe.lyeConcentrationPercent, kohShare);
  const limit = recipe.peakLimitC;
  return [
    ...checkFats(recipe.fats),
    ...checkAims(recipe),
    ...tooStrong,
    ...checkWater(recipe),
    ...checkLiquids(recipe.liquids),
    ...(tooStrong.length > 0 ? [] : checkPot(recipe, kohShare)),
    ...recipe.additives.flatMap(checkAdditive),
    ...(recipe.acids ?? []).flatMap(checkAcid),
    ...checkAllowance(recipe.allowance),
    ...(limit === undefined ? [] : checkNumber(limit, '/peakLimitC', { name: 'The temperature to stay under', unit: '°C', min: 1, max: 110 })),
    ...checkAssay(purity.naohPercent, '/purity/naohPercent', 'The purity of the sodium hydroxide'),
    ...checkAssay(purity.kohPercent, '/purity/kohPercent', 'The purity of the potassium hydroxide'),
  ];
}
