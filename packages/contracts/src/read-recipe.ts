import { parseDecimal } from '@ashwater/formulation';
import type { FormulationProblem, Outcome, RecipeInput } from '@ashwater/formulation';
import { lyeConcentrationOf } from './read-water.ts';
import type { OwnFat, RecipeDraft } from './recipes.ts';

/** Where a problem of the formulation package stands in the draft: the draft is flat where the recipe has a group. */
export const draftPointer = (pointer: string): string =>
  pointer
    .replace(/^\/(alkali|allowance)\//, '/')
    .replace(/\/certificateSv\/valueMgKohPerG$/, '/certificateSv')
    .replace(/\/certificateSv\/expandedUncertainty$/, '/certificateUncertainty')
    .replace(/(\/acids\/\d+\/strengthPercent)\/(low|nominal|high)$/, '$1');

type NumberField = { name: string; min: number; max: number };
type Read = (pointer: string, text: string, field: NumberField) => number;
const share = (name: string): NumberField => ({ name, min: 0, max: 100 });
const blank = (text: string | undefined): boolean => (text ?? '').trim() === '';

/**
 * Reads a recipe as typed into numbers. Collects every fault with a JSON pointer into the draft, so that a page can
 * show each beside its field; a blank or ambiguous number is a fault and never a zero. Ranges here only keep out
 * what no recipe can mean; the physics is judged by `formulate`.
 */
export function readRecipe(draft: RecipeDraft): Outcome<RecipeInput> {
  const problems: FormulationProblem[] = [];
  const read: Read = (pointer, text, field) => {
    const outcome = parseDecimal(text, { ...field, maxDecimals: 3 });
    if (outcome.ok) return outcome.value.value;
    problems.push(...outcome.problems.map((problem) => ({ ...problem, pointer })));
    return 0;
  };
  const rest: Omit<RecipeInput, 'lyeConcentrationPercent'> = {
    fats: draft.fats.map((fat, i) => ({
      fatKey: fat.fatKey,
      sharePercent: read(`/fats/${i}/sharePercent`, fat.sharePercent, share('The share of this fat')),
      ...readCertificate(fat, `/fats/${i}`, read, problems),
      ...(fat.own ? { own: figuresOf(fat.own) } : {}),
      ...(fat.late ? { late: true } : {}),
    })),
    alkali: { kohSharePercent: read('/kohSharePercent', draft.kohSharePercent, share('The potassium hydroxide share')) },
    superfatPercent: read('/superfatPercent', draft.superfatPercent, { name: 'Superfat', min: 0, max: 50 }),
    superfatFloorPercent: read('/superfatFloorPercent', draft.superfatFloorPercent, { name: 'The superfat floor', min: 0, max: 50 }),
    iceSharePercent: read('/iceSharePercent', draft.iceSharePercent, share('The ice share')),
    waterTemperatureC: read('/waterTemperatureC', draft.waterTemperatureC, { name: 'The water temperature', min: 0, max: 60 }),
    iceTemperatureC: read('/iceTemperatureC', draft.iceTemperatureC, { name: 'The ice temperature', min: -40, max: 0 }),
    ...readAllowance(draft, read),
    ...(blank(draft.peakLimitC)
      ? {}
      : { peakLimitC: read('/peakLimitC', draft.peakLimitC ?? '', { name: 'The temperature to stay under', min: 0, max: 150 }) }),
    ...readLines(draft, read, problems),
  };
  const water = lyeConcentrationOf(draft, rest, read);
  if (problems.length > 0) return { ok: false, problems };
  const { percent: lyeConcentrationPercent, problems: faults } = water();
  return faults.length > 0 ? { ok: false, problems: faults } : { ok: true, value: { ...rest, lyeConcentrationPercent } };
}

function readAllowance({ shrinkPercent, wastePercent }: RecipeDraft, read: Read): Pick<RecipeInput, 'allowance'> {
  if (blank(shrinkPercent) && blank(wastePercent)) return {};
  const part = (pointer: string, text: string | undefined, name: string) => (blank(text) ? 0 : read(pointer, text ?? '', share(name)));
  return {
    allowance: {
      shrinkPercent: part('/shrinkPercent', shrinkPercent, 'The shrinkage'),
      wastePercent: part('/wastePercent', wastePercent, 'What stays in the pot'),
    },
  };
}

/** Liquids, acids and additives. */
function readLines(draft: RecipeDraft, read: Read, problems: FormulationProblem[]): Pick<RecipeInput, 'liquids' | 'acids' | 'additives'> {
  for (const [i, additive] of draft.additives.entries()) {
    if (blank(additive.name)) problems.push({ code: 'value-missing', pointer: `/additives/${i}/name`, detail: 'Name the additive, or remove the line.' });
  }
  return {
    liquids: draft.liquids.map((liquid, i) => ({
      liquidKey: liquid.liquidKey,
      shareOfWaterPercent: read(`/liquids/${i}/shareOfWaterPercent`, liquid.shareOfWaterPercent, share('The share of the water')),
      ...(blank(liquid.intoFatsPercent)
        ? {}
        : { intoFatsPercent: read(`/liquids/${i}/intoFatsPercent`, liquid.intoFatsPercent ?? '', share('The part that goes into the fats')) }),
    })),
    ...(draft.acids && draft.acids.length > 0 ? { acids: draft.acids.map((acid, i) => readAcid(acid, `/acids/${i}`, read)) } : {}),
    additives: draft.additives.map((additive, i) => ({
      name: additive.name,
      shareOfFatPercent: read(`/additives/${i}/shareOfFatPercent`, additive.shareOfFatPercent, share('The share of this additive')),
      ...(blank(additive.limitPercent) ? {} : { limitPercent: read(`/additives/${i}/limitPercent`, additive.limitPercent, share("The supplier's limit")) }),
    })),
  };
}

function readAcid(acid: NonNullable<RecipeDraft['acids']>[number], pointer: string, read: Read): NonNullable<RecipeInput['acids']>[number] {
  const nominal = read(`${pointer}/strengthPercent`, acid.strengthPercent, share('The strength of the acid'));
  const give = read(`${pointer}/strengthUncertainty`, acid.strengthUncertainty, share('Its give or take'));
  return {
    acidKey: acid.acidKey,
    shareOfFatPercent: read(`${pointer}/shareOfFatPercent`, acid.shareOfFatPercent, share('The share of this acid')),
    strengthPercent: { low: Math.max(0, nominal - give), nominal, high: Math.min(100, nominal + give) },
  };
}

/** What is unknown of a studio's own fat is left out, never zero. */
const figuresOf = ({
  name,
  saponificationValue,
  iodineValue,
  densityGPerMl,
  unsaponifiablePercent,
}: OwnFat): NonNullable<RecipeInput['fats'][number]['own']> => ({
  name,
  saponificationValue,
  ...(iodineValue === null ? {} : { iodineValue }),
  ...(densityGPerMl === null ? {} : { densityGPerMl }),
  ...(unsaponifiablePercent === null ? {} : { unsaponifiablePercent }),
});
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
