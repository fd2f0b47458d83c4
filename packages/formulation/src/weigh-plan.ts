import { figure } from './check-number.ts';
import { checkRecipe } from './check-recipe.ts';
import { checkLinesOnScale, checkScale } from './check-scale.ts';
import { figuresOf } from './figures.ts';
import type { Figures } from './figures.ts';
import type { FormulationProblem, Interval, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';
import type { PlannedLines, ScaleOf } from './plan-lines.ts';
import { planLines } from './plan-lines.ts';
import { formatMass } from './quantity.ts';
import type { LineKind, Purity, RecipeInput, Warning } from './recipe.ts';
import type { Mould } from './scale-to-mould.ts';
import { checkMould, fatMassForMould } from './scale-to-mould.ts';
import type { Scale } from './scale-error.ts';
import type { BandInput } from './superfat-band.ts';
import { bandCauses, superfatBand } from './superfat-band.ts';
import { warningsFor } from './warnings.ts';
import type { PlanLine } from './weigh-line.ts';
import { whatWouldDo, wordsOf } from './what-would-do.ts';

/** Everything a weigh card needs; all figures follow from the rounded targets, not the exact masses. */
export type WeighPlan = Figures & {
  lines: PlanLine[];
  /** Worst case over every accepted reading, scale error, SV range and purity. */
  superfatBandPercent: Interval;
  warnings: Warning[];
  /** Nominal superfat after rounding minus the aim, in points: never below 0 by more than 0.001. */
  roundingEffectPercent: number;
  words: string;
};

/**
 * One decimal, outward: a stated band never looks better than it is. 3.86 to 7.02 is said as
 * 3.8 to 7.1, as on the card.
 */
function bandWords(band: Interval): string {
  return `superfat between ${figure(Math.floor(band.low * 10) / 10, 1)} and ${figure(Math.ceil(band.high * 10) / 10, 1)} %`;
}

/** What narrows the band, by the cause that widens it. */
const HELPS = {
  'oil variability': 'a certificate with the saponification value of the oil',
  'alkali purity': 'a certificate for the alkali',
  'acid strength': 'an acid of better known strength',
  weighing: 'a finer scale step or a larger batch',
} as const;

/**
 * The superfat aim that would lift the low end to the floor, rounded up to half a percent. Both
 * ends of the band rise in proportion as the alkali is scaled down, each with its own slope and with
 * what acids take left out of it, so two scalings give both lines. The nominal end where the low end
 * is at the floor is the new aim, without any luck in rounding, which another aim cannot count on.
 */
function aimThatWouldDo(input: BandInput, floor: number): number {
  const scaled = (mass: Interval, g: number): Interval => ({ low: mass.low * g, nominal: mass.nominal * g, high: mass.high * g });
  const bandAt = (g: number): Interval => superfatBand({ ...input, naohMg: scaled(input.naohMg, g), kohMg: scaled(input.kohMg, g) });
  const [whole, part] = [bandAt(1), bandAt(0.9)];
  // A band is cut off at -100 %, where both scalings look alike: then no aim would do.
  if (part.low <= whole.low) return 100;
  const exact = whole.nominal + ((floor - whole.low) / (part.low - whole.low)) * (part.nominal - whole.nominal);
  return Math.min(100, Math.ceil(exact * 2 + 1e-9) / 2);
}

/**
 * The refusal: how low, what lowers it by how much, and what would help, worst cause first. Causes
 * under 0.05 points are left out. `fields` carries the figures for a page that shows them.
 */
function belowFloor(recipe: RecipeInput, purity: Purity, planned: PlannedLines, scaleOf: ScaleOf): FormulationProblem {
  const { band, input } = planned;
  const { low } = band;
  const causes = bandCauses(input).filter((cause) => cause.lowersByPercent >= 0.05);
  const parts = causes.map((cause) => `${cause.what} takes ${figure(cause.lowersByPercent, 1)} points`).join(', ');
  const help = causes.map((cause) => HELPS[cause.what]).join(', ');
  const found = whatWouldDo(recipe, purity, planned, scaleOf);
  const neededAim = aimThatWouldDo(input, recipe.superfatFloorPercent);
  const lead = low < 0 ? 'The soap can hold free alkali: the' : 'The';
  const detail = `${lead} superfat can be as low as ${figure(Math.floor(low * 10) / 10, 1)} %, under the floor of ${figure(recipe.superfatFloorPercent, 1)} % (${parts}). Aim for ${figure(neededAim, 1)} % or more, or narrow the band: ${help}.${wordsOf(found)}`;
  return problem('superfat-band-below-floor', '/superfatPercent', detail, {
    lowPercent: low,
    floorPercent: recipe.superfatFloorPercent,
    neededAimPercent: neededAim,
    worstCause: causes[0]?.what ?? 'none',
    worstLine: found.line,
    worstLineLowersByPercent: found.lineLowersByPercent,
    ...(found.neededStepMg === undefined ? {} : { neededStepMg: found.neededStepMg }),
    ...(found.neededFatMassMg === undefined ? {} : { neededFatMassMg: found.neededFatMassMg }),
  });
}

/** Scales for single kinds of line, e.g. a finer one for the alkali; the station's own for the rest. */
export type ScaleByKind = Partial<Record<LineKind, Scale>>;

/**
 * What a station's scale must read for a recipe in a mould. Refuses, with every problem found, a bad
 * recipe, mould or scale; lines the scale cannot weigh; and a superfat band whose low end is under
 * the floor with every combination of steps, naming what lowers it most and what would help.
 *
 * Fats and alkali are chosen together by an exact search (choose-targets.ts): never under the floor,
 * then as near the aim as any combination allows, then with the fats as near the recipe as can be.
 *
 * The band covers the worst case: every fat read at its lowest accepted value, every alkali at its
 * highest, both wrong by the scale's limit, oils at the low end of their range and alkali at the
 * high end of its purity.
 */
export function planWeighing(recipe: RecipeInput, purity: Purity, mould: Mould, scale: Scale, scaleByKind: ScaleByKind = {}): Outcome<WeighPlan> {
  const scaleOf: ScaleOf = (kind) => scaleByKind[kind] ?? scale;
  const others = Object.entries(scaleByKind).flatMap(([kind, other]) => checkScale(other, `/scaleByKind/${kind}`));
  const problems = [...checkRecipe(recipe, purity), ...checkMould(mould), ...checkScale(scale), ...others];
  if (problems.length > 0) return refuse(problems);
  const planned = planLines(recipe, purity, fatMassForMould(recipe, purity, mould), scaleOf);
  const { lines, band } = planned;
  const unweighable = checkLinesOnScale(lines, scaleOf);
  if (unweighable.some((each) => each.code === 'scale-step-too-coarse')) return refuse(unweighable);
  if (!planned.safe) unweighable.push(belowFloor(recipe, purity, planned, scaleOf));
  if (unweighable.length > 0) return refuse(unweighable);
  const figures = figuresOf(recipe, lines);
  return succeed({
    ...figures,
    lines,
    superfatBandPercent: band,
    warnings: warningsFor({ recipe, purity, lines, figures, input: planned.input }),
    roundingEffectPercent: band.nominal - recipe.superfatPercent,
    words: `${alkaliWords(lines)}; ${bandWords(band)}`,
  });
}

/** "Sodium hydroxide rounded down to 131 g", and the same for potassium hydroxide if it is used. */
function alkaliWords(lines: readonly PlanLine[]): string {
  return lines
    .filter((line) => line.kind === 'naoh' || line.kind === 'koh')
    .map((line) => `${line.name} rounded down to ${formatMass(line.targetMg)}`)
    .join(', ');
}
