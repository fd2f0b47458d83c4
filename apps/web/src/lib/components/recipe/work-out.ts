import { draftPointer, readRecipe } from '@ashwater/contracts';
import { formulate, parseDecimal, PURITY_WITHOUT_CERTIFICATE, scaleToMould } from '@ashwater/formulation';
import type { Formula, FormulationProblem, RecipeInput } from '@ashwater/formulation';
import { fieldsOf } from './editor-state.ts';
import type { EditorState } from './editor-state.ts';

/** A fault beside its field; `missing` ones are not shown before the field was left. */
export type Fault = { name: string; detail: string; missing: boolean };
export type WorkedOut = { faults: Fault[]; recipe: RecipeInput | null; perKilogram: Formula | null; inMould: Formula | null };

/** The form's field a problem's pointer belongs to. */
export function fieldOf(pointer: string): string {
  if (pointer === '/mould/volumeMl') return 'mouldMl';
  // One field holds the water's figure, whichever measure it is in.
  if (pointer === '/lyeConcentrationPercent') return 'draft/waterFigure';
  return `draft${draftPointer(pointer)}`;
}

const CHOOSE: Record<string, string> = {
  fatKey: 'Choose a fat, or remove the line.',
  liquidKey: 'Choose a liquid, or remove the line.',
  acidKey: 'Choose an acid, or remove the line.',
};

/** Sentences that fit the form better than those of the model: a select left blank is not an unknown fat. */
export function tidyDetail(name: string, detail: string, typed: Readonly<Record<string, string>>): string {
  const choose = CHOOSE[name.split('/').at(-1) ?? ''];
  return choose !== undefined && (typed[name] ?? '') === '' ? choose : detail;
}

const inField = (problem: FormulationProblem, typed: Record<string, string>): Fault => {
  const name = fieldOf(problem.pointer);
  return { name, detail: tidyDetail(name, problem.detail, typed), missing: typed[name] === '' };
};

function readMould(text: string): { volumeMl: number } | Fault | null {
  if (text.trim() === '') return null;
  const read = parseDecimal(text.replace(/\s*ml$/i, ''), { name: 'The mould volume', min: 20, max: 100_000, maxDecimals: 0 });
  return read.ok ? { volumeMl: read.value.value } : { name: 'mouldMl', detail: read.problems[0]?.detail ?? 'Not readable.', missing: false };
}

/**
 * Everything the editor says about a recipe while it is written: figures for 1 kg of fat and for a mould, or every
 * fault with its field. Purity is the wide range of caustic without a certificate; lots are chosen for a class.
 */
export function workOut(state: EditorState): WorkedOut {
  const typed = fieldsOf(state);
  const faults: Fault[] = [];
  if (state.draft.title.trim() === '') faults.push({ name: 'draft/title', detail: 'Give the recipe a name.', missing: true });
  const recipe = readRecipe(state.draft);
  const formula = recipe.ok ? formulate(recipe.value, PURITY_WITHOUT_CERTIFICATE) : recipe;
  if (!formula.ok) faults.push(...formula.problems.map((problem) => inField(problem, typed)));
  const mould = readMould(state.mouldMl);
  if (mould && 'detail' in mould) faults.push(mould);
  const inMould = recipe.ok && formula.ok && mould && 'volumeMl' in mould ? scaleToMould(recipe.value, PURITY_WITHOUT_CERTIFICATE, mould) : null;
  return { faults, recipe: recipe.ok ? recipe.value : null, perKilogram: formula.ok ? formula.value : null, inMould: inMould?.ok ? inMould.value : null };
}

/** The fats' shares so far, in thousandths of a percent so that 33.3 and 66.7 make exactly 100. */
export function fatSum(state: EditorState): { sumPercent: number; leftPercent: number; unread: number } {
  let thousandths = 0;
  let unread = 0;
  for (const { sharePercent } of state.draft.fats) {
    const read = parseDecimal(sharePercent, { name: 'The share', min: 0, max: 100, maxDecimals: 3 });
    if (read.ok) thousandths += Math.round(read.value.value * 1000);
    else unread += 1;
  }
  return { sumPercent: thousandths / 1000, leftPercent: (100_000 - thousandths) / 1000, unread };
}
