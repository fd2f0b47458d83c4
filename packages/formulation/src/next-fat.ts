import type { ScaleOf } from './plan-lines.ts';
import type { Purity, RecipeInput } from './recipe.ts';
import type { PlanLine } from './weigh-line.ts';
import { lineAt, trueMassOf } from './weigh-line.ts';
import type { LineState } from './weighing-state.ts';
import { bandOf, plus } from './weighing-state.ts';

/** More fat than this share of the plan is another batch, not a rescue: our choice, no source. */
const MOST_SHARE = 1;

/** Parts the largest rescue is divided in while looking for the least that is enough. */
const PARTS = 400;

/** Fat to be put on top: read no less than its target. */
export function fatOnTop(line: PlanLine, targetMg: number, stepMg: number): PlanLine {
  const added = lineAt({ ...line, massMg: targetMg }, targetMg, stepMg);
  return { ...added, acceptLowMg: targetMg };
}

/** The states with these additions made; their masses are those of the additions alone. */
export function withFatOnTop(states: readonly LineState[], added: readonly PlanLine[], scaleOf: ScaleOf): LineState[] {
  return states.map((state) => {
    const line = added.find((each) => each.key === state.line.key);
    return line ? { ...state, mass: plus(state.mass, trueMassOf(line, scaleOf('fat'))) } : state;
  });
}

/**
 * The least fat, in the blend of the recipe, that lifts the worst case to the floor when the alkali
 * cannot come out any more: one addition a fat, rounded up to the step. Null when not even as much
 * again as the plan has would do.
 */
export function fatThatRestores(recipe: RecipeInput, purity: Purity, states: readonly LineState[], scaleOf: ScaleOf): PlanLine[] | null {
  const { stepMg, capacityMg } = scaleOf('fat');
  const fats = states.filter((state) => state.line.kind === 'fat').map((state) => state.line);
  const addedAt = (part: number): PlanLine[] =>
    fats.map((line) => fatOnTop(line, Math.ceil((line.exactMg * MOST_SHARE * part) / PARTS / stepMg) * stepMg, stepMg));
  const enough = (part: number): boolean => bandOf(recipe, purity, withFatOnTop(states, addedAt(part), scaleOf)).low >= recipe.superfatFloorPercent;
  const part = Array.from({ length: PARTS }, (_each, index) => index + 1).find(enough);
  if (part === undefined) return null;
  const added = addedAt(part);
  return added.some((line) => line.acceptHighMg > capacityMg) ? null : added;
}
