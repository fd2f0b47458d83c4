import { needOfKohMg } from './alkali.ts';
import { massOf, saponificationValueOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import type { Line, LineKind, RecipeInput } from './recipe.ts';
import { errorLimitMg } from './scale-error.ts';

/**
 * A line as the scale must read it: `targetMg` is a multiple of the step; a reading from
 * `acceptLowMg` to `acceptHighMg`, both included, is accepted.
 */
export type PlanLine = Line & {
  exactMg: number;
  targetMg: number;
  acceptLowMg: number;
  acceptHighMg: number;
  stepMg: number;
};

/** Tolerance as a share of the target, at least one step; our choice, common practice, no source. */
const TOLERANCE: Record<LineKind, number> = {
  fat: 0.005,
  naoh: 0.005,
  koh: 0.005,
  water: 0.02,
  ice: 0.02,
  liquid: 0.02,
  additive: 0.01,
};

function isAlkali(kind: LineKind): boolean {
  return kind === 'naoh' || kind === 'koh';
}

/**
 * How much of the exact alkali the rounded fats still need, at most 1: fats rounded down together
 * take less alkali, fats rounded up never take more than the recipe says.
 */
function needKept(recipe: RecipeInput, exact: readonly Line[], rounded: readonly Line[]): number {
  const need = (lines: readonly Line[]): number =>
    recipe.fats.reduce((sum, fat) => sum + needOfKohMg(massOf(lines, `fat:${fat.fatKey}`), saponificationValueOf(fat).nominal), 0);
  return Math.min(1, need(rounded) / need(exact));
}

function withTolerance(line: Line, targetMg: number, stepMg: number, capMg: number): PlanLine {
  const spread = Math.max(1, Math.floor((TOLERANCE[line.kind] * targetMg) / stepMg)) * stepMg;
  const acceptHighMg = isAlkali(line.kind) ? targetMg : Math.min(targetMg + spread, Math.max(targetMg, capMg));
  return {
    ...line,
    massMg: targetMg,
    exactMg: line.massMg,
    targetMg,
    acceptLowMg: Math.max(0, targetMg - spread),
    acceptHighMg,
    stepMg,
  };
}

/**
 * Rounds every line to the step of the scale. Fats, water, ice and additives go to the nearest step;
 * alkali goes down, from the exact mass or from what the rounded fats need, whichever is less, and
 * is never accepted above its target. So rounding alone can only raise the superfat.
 */
export function roundLines(recipe: RecipeInput, lines: readonly Line[], stepMg: number): PlanLine[] {
  const nearest = (massMg: number): number => Math.round(massMg / stepMg) * stepMg;
  const roundedFats = lines.map((line) => (line.kind === 'fat' ? { ...line, massMg: nearest(line.massMg) } : line));
  const kept = needKept(recipe, lines, roundedFats);
  const fatMassMg = lines.reduce((sum, line) => (line.kind === 'fat' ? sum + line.massMg : sum), 0);
  return lines.map((line) => {
    if (isAlkali(line.kind)) {
      return withTolerance(line, Math.floor((line.massMg * kept) / stepMg) * stepMg, stepMg, Infinity);
    }
    const limit = recipe.additives[Number(line.key.slice('additive:'.length))]?.limitPercent;
    const capped = line.kind === 'additive' && limit !== undefined;
    const capMg = capped ? Math.floor((fatMassMg * limit) / 100 / stepMg) * stepMg : Infinity;
    return withTolerance(line, Math.min(nearest(line.massMg), capMg), stepMg, capMg);
  });
}

/** What the true mass can be when any accepted reading is taken: the range and the scale's limits. */
export function trueMassOf(line: PlanLine): Interval {
  return {
    low: Math.max(0, line.acceptLowMg - errorLimitMg(line.stepMg, line.acceptLowMg)),
    nominal: line.targetMg,
    high: line.acceptHighMg + errorLimitMg(line.stepMg, line.acceptHighMg),
  };
}
