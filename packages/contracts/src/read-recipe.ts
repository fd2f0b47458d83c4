import { parseDecimal } from '@ashwater/formulation';
import type { FormulationProblem, Outcome, RecipeInput } from '@ashwater/formulation';
import type { RecipeDraft } from './recipes.ts';

/** Where a problem of the formulation package stands in the draft: the draft is flat where the recipe has a group. */
export const draftPointer = (pointer: string): string =>
  pointer
    .replace(/^\/alkali\//, '/')
    .replace(/\/certificateSv\/valueMgKohPerG$/, '/certificateSv')
    .replace(/\/certificateSv\/expandedUncertainty$/, '/certificateUncertainty');

type NumberField = { name: string; min: number; max: number };

/**
 * Reads a recipe as typed into numbers. Collects every fault with a JSON pointer into the draft, so that a page can
 * show each beside its field; a blank or ambiguous number is a fault and never a zero. Ranges here only keep out
 * what no recipe can mean; the physics is judged by `formulate`.
 */
export function readRecipe(draft: RecipeDraft): Outcome<RecipeInput> {
  const problems: FormulationProblem[] = [];
  const read = (pointer: string, text: string, field: NumberField): number => {
    const outcome = parseDecimal(text, { ...field, maxDecimals: 3 });
    if (outcome.ok) return outcome.value.value;
    problems.push(...outcome.problems.map((problem) => ({ ...problem, pointer })));
    return 0;
  };
  const share = (name: string): NumberField => ({ name, min: 0, max: 100 });
  const value: RecipeInput = {
    fats: draft.fats.map((fat, i) => ({
      fatKey: fat.fatKey,
      sharePercent: read(`/fats/${i}/sharePercent`, fat.sharePercent, share('The share of this fat')),
      ...readCertificate(fat, `/fats/${i}`, read, problems),
    })),
    alkali: { kohSharePercent: read('/kohSharePercent', draft.kohSharePercent, share('The potassium hydroxide share')) },
    superfatPercent: read('/superfatPercent', draft.superfatPercent, { name: 'Superfat', min: 0, max: 50 }),
    superfatFloorPercent: read('/superfatFloorPercent', draft.superfatFloorPercent, { name: 'The superfat floor', min: 0, max: 50 }),
    lyeConcentrationPercent: read('/lyeConcentrationPercent', draft.lyeConcentrationPercent, { name: 'Lye concentration', min: 1, max: 99 }),
    iceSharePercent: read('/iceSharePercent', draft.iceSharePercent, share('The ice share')),
    waterTemperatureC: read('/waterTemperatureC', draft.waterTemperatureC, { name: 'The water temperature', min: 0, max: 60 }),
    iceTemperatureC: read('/iceTemperatureC', draft.iceTemperatureC, { name: 'The ice temperature', min: -40, max: 0 }),
    liquids: draft.liquids.map((liquid, i) => ({
      liquidKey: liquid.liquidKey,
      shareOfWaterPercent: read(`/liquids/${i}/shareOfWaterPercent`, liquid.shareOfWaterPercent, share('The share of the water')),
    })),
    additives: draft.additives.map((additive, i) => ({
      name: additive.name,
      shareOfFatPercent: read(`/additives/${i}/shareOfFatPercent`, additive.shareOfFatPercent, share('The share of this additive')),
      ...(additive.limitPercent.trim() === ''
        ? {}
        : { limitPercent: read(`/additives/${i}/limitPercent`, additive.limitPercent, share("The supplier's limit")) }),
    })),
  };
  for (const [i, additive] of draft.additives.entries()) {
    if (additive.name.trim() === '')
      problems.push({ code: 'value-missing', pointer: `/additives/${i}/name`, detail: 'Name the additive, or remove the line.' });
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value };
}

type Read = (pointer: string, text: string, field: NumberField) => number;
const DAY = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/;

/** A certificate is value, uncertainty and date, or nothing: a value without its uncertainty would look exact. */
function readCertificate(fat: RecipeDraft['fats'][number], pointer: string, read: Read, problems: FormulationProblem[]) {
  const { certificateSv = '', certificateUncertainty = '', certificateOn = '' } = fat;
  if ([certificateSv, certificateUncertainty, certificateOn].every((text) => text.trim() === '')) return {};
  const valueMgKohPerG = read(`${pointer}/certificateSv`, certificateSv, { name: 'The saponification value', min: 1, max: 400 });
  const expandedUncertainty = read(`${pointer}/certificateUncertainty`, certificateUncertainty, { name: 'Its give or take', min: 0, max: 20 });
  if (!DAY.test(certificateOn.trim()))
    problems.push({ code: 'value-missing', pointer: `${pointer}/certificateOn`, detail: 'Give the date on the certificate, or clear its three fields.' });
  return { certificateSv: { valueMgKohPerG, expandedUncertainty } };
}
