import { massOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import type { Line, LineKind, RecipeInput } from './recipe.ts';
import type { ScaleOrStep } from './scale-error.ts';
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
  acid: 0.005,
  additive: 0.01,
};

export function isAlkali(kind: LineKind): boolean {
  return kind === 'naoh' || kind === 'koh';
}

/** Nearest multiple of the step, mg. */
export function nearestStep(massMg: number, stepMg: number): number {
  return Math.round(massMg / stepMg) * stepMg;
}

/**
 * A line with its target and accepted range, mg; `massMg` of the given line is the exact mass.
 * Alkali is never accepted above its target; no line is accepted above `capMg`.
 */
export function lineAt(line: Line, targetMg: number, stepMg: number, capMg = Infinity): PlanLine {
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
 * Water, ice, other liquids and additives at the nearest step; an additive with a limit never above
 * that share of the fat, neither as target nor as accepted reading.
 */
export function besideLine(recipe: RecipeInput, lines: readonly Line[], line: Line, stepMg: number): PlanLine {
  const limit = recipe.additives[Number(line.key.slice('additive:'.length))]?.limitPercent;
  if (line.kind !== 'additive' || limit === undefined) return lineAt(line, nearestStep(line.massMg, stepMg), stepMg);
  const fatMassMg = recipe.fats.reduce((sum, fat) => sum + massOf(lines, `fat:${fat.fatKey}`), 0);
  const capMg = Math.floor((fatMassMg * limit) / 100 / stepMg) * stepMg;
  return lineAt(line, Math.min(nearestStep(line.massMg, stepMg), capMg), stepMg, capMg);
}

/** What the true mass can be when any accepted reading is taken: the range and the scale's limits. */
export function trueMassOf(line: PlanLine, scale: ScaleOrStep = line.stepMg): Interval {
  return {
    low: Math.max(0, line.acceptLowMg - errorLimitMg(scale, line.acceptLowMg)),
    nominal: line.targetMg,
    high: line.acceptHighMg + errorLimitMg(scale, line.acceptHighMg),
  };
}
