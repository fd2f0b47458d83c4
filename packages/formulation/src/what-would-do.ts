import { figure } from './check-number.ts';
import type { Interval } from './outcome.ts';
import type { PlannedLines, ScaleOf } from './plan-lines.ts';
import { planLines } from './plan-lines.ts';
import { formatMass } from './quantity.ts';
import type { LineKind, Purity, RecipeInput } from './recipe.ts';
import type { Scale } from './scale-error.ts';
import { bandInput } from './figures.ts';
import { exactly, superfatBand } from './superfat-band.ts';
import type { PlanLine } from './weigh-line.ts';
import { isAlkali, trueMassOf } from './weigh-line.ts';

/** Steps that scales are sold with, mg: 1, 2 and 5 times a power of ten, coarse first. */
const USUAL_STEPS_MG = [50_000, 20_000, 10_000, 5000, 2000, 1000, 500, 200, 100, 50, 20, 10, 5, 2, 1];

/** Largest batch that is tried, by its fat: about the largest mould that is accepted. */
const LARGEST_FAT_MG = 100_000_000;

/**
 * What is to be changed so that a plan under its floor becomes safe. `line` is the one whose weighing
 * lowers the low end most, by `lineLowersByPercent` points. `neededStepMg` and `neededFatMassMg` are
 * left out when no scale step, or no batch size on these scales, would do.
 */
export type WhatWouldDo = { line: string; lineName: string; lineLowersByPercent: number; neededStepMg?: number; neededFatMassMg?: number };

/** How far the weighing of each fat and alkali lowers the low end, the worst first, in points. */
function worstLine(recipe: RecipeInput, purity: Purity, planned: PlannedLines, scaleOf: ScaleOf): { line: PlanLine | undefined; byPercent: number } {
  const lowWithout = (spared: PlanLine): number => {
    const trueMass = (line: PlanLine): Interval => (line.key === spared.key ? exactly(line.targetMg) : trueMassOf(line, scaleOf(line.kind)));
    return superfatBand(bandInput(recipe, purity, planned.lines, trueMass)).low;
  };
  const ranked = planned.lines
    .filter((line) => line.kind === 'fat' || line.kind === 'acid' || isAlkali(line.kind))
    .map((line) => ({ line, byPercent: lowWithout(line) - planned.band.low }))
    .sort((a, b) => b.byPercent - a.byPercent);
  return ranked[0] ?? { line: undefined, byPercent: 0 };
}

/** The same scale with another step: its class stays, its interval shrinks with it, old checks say nothing. */
function withStep(scale: Scale, stepMg: number): Scale {
  if (scale.stepMg <= stepMg) return scale;
  const interval = scale.verificationIntervalMg;
  const verificationIntervalMg = interval === undefined ? undefined : Math.max(stepMg, Math.round((interval * stepMg) / scale.stepMg));
  return {
    stepMg,
    capacityMg: scale.capacityMg,
    ...(verificationIntervalMg === undefined ? {} : { verificationIntervalMg }),
    ...(scale.accuracyClass === undefined ? {} : { accuracyClass: scale.accuracyClass }),
  };
}

/** Coarsest usual step, finer than the coarsest in use, with which the plan is safe; each is tried out. */
function neededStep(recipe: RecipeInput, purity: Purity, fatMassMg: number, scaleOf: ScaleOf, kinds: readonly LineKind[]): number | undefined {
  const coarsestMg = Math.max(...kinds.map((kind) => scaleOf(kind).stepMg));
  return USUAL_STEPS_MG.find((stepMg) => stepMg < coarsestMg && planLines(recipe, purity, fatMassMg, (kind) => withStep(scaleOf(kind), stepMg)).safe);
}

/** Up to two figures, so that a batch can be remembered: 1 234 567 becomes 1 300 000. */
function roundedUp(massMg: number): number {
  const unit = 10 ** Math.max(0, Math.floor(Math.log10(massMg)) - 1);
  return Math.ceil(massMg / unit) * unit;
}

/** Smallest batch tried, in steps of a tenth, that is safe on the same scales and does not overload them. */
function neededFatMass(recipe: RecipeInput, purity: Purity, fatMassMg: number, scaleOf: ScaleOf): number | undefined {
  for (let massMg = roundedUp(fatMassMg * 1.05); massMg <= LARGEST_FAT_MG; massMg = roundedUp(massMg * 1.05)) {
    const planned = planLines(recipe, purity, massMg, scaleOf);
    if (planned.lines.some((line) => line.acceptHighMg > scaleOf(line.kind).capacityMg)) return undefined;
    if (planned.safe) return massMg;
  }
  return undefined;
}

/**
 * Looks for the changes one by one. When even perfect weighing at the aim is under the floor, the
 * oils or the alkali are the reason and neither a step nor a batch is looked for.
 */
export function whatWouldDo(recipe: RecipeInput, purity: Purity, planned: PlannedLines, scaleOf: ScaleOf): WhatWouldDo {
  const { line, byPercent } = worstLine(recipe, purity, planned, scaleOf);
  const found = { line: line?.key ?? '', lineName: line?.name ?? '', lineLowersByPercent: byPercent };
  const perfect = superfatBand(bandInput(recipe, purity, planned.lines, (each) => exactly(each.kind === 'acid' ? each.targetMg : each.exactMg)));
  if (perfect.low < recipe.superfatFloorPercent) return found;
  const fatMassMg = planned.lines.reduce((sum, each) => (each.kind === 'fat' ? sum + each.exactMg : sum), 0);
  const kinds: LineKind[] = planned.lines.map((each) => each.kind);
  const neededStepMg = neededStep(recipe, purity, fatMassMg, scaleOf, kinds);
  const neededFatMassMg = neededFatMass(recipe, purity, fatMassMg, scaleOf);
  return { ...found, ...(neededStepMg === undefined ? {} : { neededStepMg }), ...(neededFatMassMg === undefined ? {} : { neededFatMassMg }) };
}

/** "Of the lines, sodium hydroxide matters most (0.8 points). A scale with steps of 0.1 g would do." */
export function wordsOf(found: WhatWouldDo): string {
  const most = found.line === '' ? '' : ` Of the lines, ${found.lineName} matters most: its weighing takes ${figure(found.lineLowersByPercent, 1)} points.`;
  const ways = [
    ...(found.neededStepMg === undefined ? [] : [`a scale with steps of ${formatMass(found.neededStepMg)}`]),
    ...(found.neededFatMassMg === undefined ? [] : [`a batch of ${formatMass(found.neededFatMassMg)} of fat`]),
  ];
  if (ways.length === 0) return `${most} No finer scale and no larger batch is enough by itself.`;
  return `${most} On its own, ${ways.join(' or ')} would do.`;
}
