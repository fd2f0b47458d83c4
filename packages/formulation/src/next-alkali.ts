import { kohTakenPerMg } from './acids.ts';
import { assayAt, needMetMg, needOfKohMg } from './alkali.ts';
import type { Interval } from './outcome.ts';
import type { ScaleOf } from './plan-lines.ts';
import type { Purity, RecipeInput } from './recipe.ts';
import { saponificationValueOf } from './masses.ts';
import type { PlanLine } from './weigh-line.ts';
import { lineAt, trueMassOf } from './weigh-line.ts';
import type { LineState } from './weighing-state.ts';
import { bandOf } from './weighing-state.ts';

/** Largest whole number from 0 to `most` that is allowed, when all below an allowed one are too. */
export function greatestAllowed(most: number, allowed: (count: number) => boolean): number {
  let low = 0;
  let high = most;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (allowed(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}

export const NOTHING: Interval = { low: 0, nominal: 0, high: 0 };

/** Need left for alkali at the aim, mg of pure KOH: what the fats need and the acids take, less what is in the pot already. */
function needLeftMg(recipe: RecipeInput, purity: Purity, states: readonly LineState[]): number {
  const nominal = (key: string): number => states.find((state) => state.line.key === key)?.mass.nominal ?? 0;
  const need = recipe.fats.reduce((sum, fat) => sum + needOfKohMg(nominal(`fat:${fat.fatKey}`), saponificationValueOf(fat).nominal), 0);
  const inPot = (kind: 'naoh' | 'koh'): number => states.find((state) => state.line.kind === kind && state.where === 'pot')?.mass.nominal ?? 0;
  const met = needMetMg({ naohMg: inPot('naoh'), kohMg: inPot('koh') }, assayAt(purity, 'nominal'));
  const taken = (recipe.acids ?? []).reduce(
    (sum, acid) => sum + nominal(`acid:${acid.acidKey}`) * kohTakenPerMg(acid.acidKey, acid.strengthPercent).nominal,
    0,
  );
  return need * (1 - recipe.superfatPercent / 100) + taken - met;
}

/** Need met by one mg of this alkali at its nominal assay. */
function worth(line: PlanLine, purity: Purity): number {
  return needMetMg({ naohMg: line.kind === 'naoh' ? 1 : 0, kohMg: line.kind === 'koh' ? 1 : 0 }, assayAt(purity, 'nominal'));
}

/**
 * The most alkali these lines, none of them in the pot, may be weighed to, by key: never more than the fats need at the aim, and worst case at or above the
 * floor. Lines keep the proportion of the plan. Superfat falls with every step more, so a bisection over the
 * steps of the first line finds the greatest; the others follow, rounded down.
 */
export function alkaliTargets(
  recipe: RecipeInput,
  purity: Purity,
  states: readonly LineState[],
  keys: readonly string[],
  scaleOf: ScaleOf,
): Map<string, PlanLine> {
  const free = states.filter((state) => keys.includes(state.line.key));
  const planned = free.reduce((sum, { line }) => sum + line.exactMg * worth(line, purity), 0);
  const [first] = free;
  if (!first || planned <= 0) return new Map();
  const ratio = Math.max(0, needLeftMg(recipe, purity, states)) / planned;
  const stepMg = scaleOf(first.line.kind).stepMg;
  const linesAt = (count: number): Map<string, PlanLine> =>
    new Map(
      free.map(({ line }) => {
        const own = scaleOf(line.kind).stepMg;
        const share = first.line.exactMg > 0 ? (count * stepMg) / first.line.exactMg : 0;
        const targetMg = line === first.line ? count * stepMg : Math.floor((line.exactMg * share) / own) * own;
        return [line.key, lineAt({ ...line, massMg: targetMg }, targetMg, own)];
      }),
    );
  const allowed = (count: number): boolean => {
    const lines = linesAt(count);
    if ([...lines.values()].some((line) => line.acceptHighMg > scaleOf(line.kind).capacityMg)) return false;
    return bandOf(recipe, purity, withTargets(states, lines, scaleOf)).low >= recipe.superfatFloorPercent;
  };
  return linesAt(greatestAllowed(Math.floor((first.line.exactMg * ratio) / stepMg), allowed));
}

/** The states after these alkali lines, none of them in the pot, were weighed within their ranges. */
export function withTargets(states: readonly LineState[], lines: ReadonlyMap<string, PlanLine>, scaleOf: ScaleOf): LineState[] {
  return states.map((state) => {
    const line = lines.get(state.line.key);
    return line ? { ...state, mass: line.targetMg === 0 ? NOTHING : trueMassOf(line, scaleOf(line.kind)) } : state;
  });
}
