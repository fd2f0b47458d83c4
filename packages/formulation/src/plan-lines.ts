import { kohTakenPerMg } from './acids.ts';
import { assayAt, needMetMg, needOfKohMg } from './alkali.ts';
import { FEWEST_STEPS } from './check-scale.ts';
import type { AlkaliOption, FatOption, TargetChoice, TargetProblem } from './choose-targets.ts';
import { chooseTargets } from './choose-targets.ts';
import { bandInput } from './figures.ts';
import { recipeLines, saponificationValueOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import type { Line, LineKind, Purity, RecipeInput } from './recipe.ts';
import type { Scale } from './scale-error.ts';
import type { BandInput } from './superfat-band.ts';
import { superfatBand } from './superfat-band.ts';
import type { PlanLine } from './weigh-line.ts';
import { besideLine, isAlkali, lineAt, nearestStep, trueMassOf } from './weigh-line.ts';

/** Which scale a kind of line is weighed on. */
export type ScaleOf = (kind: LineKind) => Scale;

/** Past this many fats, more than any recipe has, the rest stay at the nearest step: 2^20 pairs take 50 ms. */
const MOST_FREE_FATS = 20;

/** The step below and the step above, the nearer one first; only the nearer one when `free` is false. */
function fatOptions(recipe: RecipeInput, line: Line, scale: Scale, free: boolean): FatOption[] {
  const { stepMg } = scale;
  const share = recipe.fats.find((fat) => `fat:${fat.fatKey}` === line.key);
  const value = share ? saponificationValueOf(share) : { low: 0, nominal: 0, high: 0 };
  const below = Math.floor(line.massMg / stepMg) * stepMg;
  const nearest = nearestStep(line.massMg, stepMg);
  const targets = free ? [nearest, nearest === below ? below + stepMg : below] : [nearest];
  return targets.map((targetMg) => ({
    targetMg,
    needMg: needOfKohMg(targetMg, value.nominal),
    needLowMg: needOfKohMg(trueMassOf(lineAt(line, targetMg, stepMg), scale).low, value.low),
    awayMg: Math.abs(targetMg - line.massMg),
  }));
}

/**
 * Every combination of the alkali lines, each at the step below its exact mass or one step less (as
 * long as that is steps enough to weigh), most alkali first. What acids take of it meets no need.
 */
function alkaliOptions(purity: Purity, alkali: readonly Line[], scaleOf: ScaleOf, takenMg: Interval): AlkaliOption[] {
  let combinations: number[][] = [[]];
  for (const line of alkali) {
    const { stepMg } = scaleOf(line.kind);
    const below = Math.floor(line.massMg / stepMg) * stepMg;
    const less = below - stepMg;
    const targets = less >= FEWEST_STEPS[line.kind] * stepMg ? [below, less] : [below];
    combinations = combinations.flatMap((before) => targets.map((targetMg) => [...before, targetMg]));
  }
  return combinations.map((targetsMg) => {
    const met = (end: 'nominal' | 'high'): number =>
      alkali.reduce((sum, line, index) => {
        const mass = trueMassOf(lineAt(line, targetsMg[index] ?? 0, scaleOf(line.kind).stepMg), scaleOf(line.kind))[end];
        return sum + needMetMg({ naohMg: line.kind === 'naoh' ? mass : 0, kohMg: line.kind === 'koh' ? mass : 0 }, assayAt(purity, end));
      }, 0);
    return { targetsMg, metMg: met('nominal') - takenMg.nominal, metHighMg: met('high') - takenMg.low };
  });
}

/**
 * How far above the aim a plan may end, points: what one step of every alkali line is worth, and one
 * step of the fat that counts most. Some choice always ends within it: alkali at the step below its
 * exact mass and the fats raised one by one until they need as much. Past it the floor is kept by
 * making another recipe, and the instructor is told to aim higher instead.
 */
function mostDeviation(fats: readonly (readonly FatOption[])[], alkali: readonly Line[], purity: Purity, scaleOf: ScaleOf): number {
  const leastNeedMg = fats.reduce((sum, options) => sum + Math.min(...options.map((option) => option.needMg)), 0);
  const fatWorthMg = Math.max(0, ...fats.map(([one, other]) => Math.abs((one?.needMg ?? 0) - (other?.needMg ?? one?.needMg ?? 0))));
  const assay = assayAt(purity, 'nominal');
  const alkaliWorthMg = alkali.reduce((sum, { kind }) => {
    // One mg more: the exact mass was itself cut to whole mg.
    const stepMg = scaleOf(kind).stepMg + 1;
    return sum + needMetMg({ naohMg: kind === 'naoh' ? stepMg : 0, kohMg: kind === 'koh' ? stepMg : 0 }, assay);
  }, 0);
  return (100 * (fatWorthMg + alkaliWorthMg)) / Math.max(1, leastNeedMg);
}

/** What the acids take at the nearest step of each, mg of pure KOH. */
function acidsOnScale(recipe: RecipeInput, lines: readonly Line[], scaleOf: ScaleOf): Interval {
  const takenMg: Interval = { low: 0, nominal: 0, high: 0 };
  for (const acid of recipe.acids ?? []) {
    const line = lines.find((each) => each.key === `acid:${acid.acidKey}`);
    if (!line) continue;
    const scale = scaleOf('acid');
    const mass = trueMassOf(lineAt(line, nearestStep(line.massMg, scale.stepMg), scale.stepMg), scale);
    const perMg = kohTakenPerMg(acid.acidKey, acid.strengthPercent);
    takenMg.low += mass.low * perMg.low;
    takenMg.nominal += mass.nominal * perMg.nominal;
    takenMg.high += mass.high * perMg.high;
  }
  return takenMg;
}

/** The search for these exact lines on these scales, ready to be solved. Superfat is compared to a billionth of a point. */
export function targetProblem(recipe: RecipeInput, purity: Purity, lines: readonly Line[], scaleOf: ScaleOf): TargetProblem {
  const fatLines = lines.filter((line) => line.kind === 'fat');
  const alkaliLines = lines.filter((line) => isAlkali(line.kind));
  const fats = fatLines.map((line, index) => fatOptions(recipe, line, scaleOf('fat'), index < MOST_FREE_FATS));
  return {
    fats,
    alkali: alkaliOptions(purity, alkaliLines, scaleOf, acidsOnScale(recipe, lines, scaleOf)),
    mostDeviationPercent: mostDeviation(fats, alkaliLines, purity, scaleOf),
    aimPercent: recipe.superfatPercent,
    floorPercent: recipe.superfatFloorPercent,
  };
}

/** Targets for a mass of fat and their band; `safe` is whether its low end is at or above the floor. */
export type PlannedLines = { lines: PlanLine[]; input: BandInput; band: Interval; safe: boolean };

/**
 * Exact lines for the acids as their scale can show them: the alkali then fits what is really weighed.
 * Whole mg first, as in their lines: half a step must be rounded the same way in both.
 */
function exactLines(recipe: RecipeInput, purity: Purity, fatMassMg: number, scaleOf: ScaleOf): Line[] {
  const stated = recipeLines(recipe, purity, fatMassMg);
  const asWeighed = recipeLines(recipe, purity, fatMassMg, (massMg) => nearestStep(Math.round(massMg), scaleOf('acid').stepMg));
  return stated.map((line) => (line.kind === 'acid' ? line : (asWeighed.find((each) => each.key === line.key) ?? line)));
}

/**
 * Rounds a recipe for a mass of fat to what the scales show. Fats and alkali by the exact search of
 * choose-targets.ts; when no combination keeps to the floor, the one nearest the aim regardless of
 * it, so that the refusal can say how far it is under. Water, ice, acids and additives at the nearest step.
 */
export function planLines(recipe: RecipeInput, purity: Purity, fatMassMg: number, scaleOf: ScaleOf): PlannedLines {
  const exact = exactLines(recipe, purity, fatMassMg, scaleOf);
  const search = targetProblem(recipe, purity, exact, scaleOf);
  const choice = chooseTargets(search) ?? chooseTargets({ ...search, floorPercent: -1e6 });
  const targets = targetsByKey(exact, choice);
  const lines = exact.map((line) => {
    const { stepMg } = scaleOf(line.kind);
    const targetMg = targets.get(line.key);
    return targetMg === undefined ? besideLine(recipe, exact, line, stepMg) : lineAt(line, targetMg, stepMg);
  });
  const input = bandInput(recipe, purity, lines, (line) => trueMassOf(line, scaleOf(line.kind)));
  const band = superfatBand(input);
  return { lines, input, band, safe: band.low >= recipe.superfatFloorPercent };
}

function targetsByKey(exact: readonly Line[], choice: TargetChoice | null): Map<string, number> {
  const fats = exact.filter((line) => line.kind === 'fat').map((line, index) => [line.key, choice?.fats[index]?.targetMg] as const);
  const alkali = exact.filter((line) => isAlkali(line.kind)).map((line, index) => [line.key, choice?.alkali.targetsMg[index] ?? 0] as const);
  const found = new Map<string, number>();
  for (const [key, targetMg] of [...fats, ...alkali]) if (targetMg !== undefined) found.set(key, targetMg);
  return found;
}
