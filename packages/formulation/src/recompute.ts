import { checkNumber } from './check-number.ts';
import { checkRecipe } from './check-recipe.ts';
import { checkScale } from './check-scale.ts';
import { figuresOf } from './figures.ts';
import type { FormulationProblem, Interval, Outcome } from './outcome.ts';
import { refuse, succeed } from './outcome.ts';
import { alkaliTargets, NOTHING, withTargets } from './next-alkali.ts';
import { fatOnTop, fatThatRestores, withFatOnTop } from './next-fat.ts';
import type { NextLine } from './next-words.ts';
import { wordsFor } from './next-words.ts';
import type { ScaleOf } from './plan-lines.ts';
import type { Purity, RecipeInput } from './recipe.ts';
import type { Scale } from './scale-error.ts';
import { solubilityPercent } from './solubility.ts';
import type { PlanLine } from './weigh-line.ts';
import { isAlkali, lineAt, nearestStep, trueMassOf } from './weigh-line.ts';
import type { ScaleByKind } from './weigh-plan.ts';
import type { LineState, MadeReading } from './weighing-state.ts';
import { bandOf, checkReadings, lineStates } from './weighing-state.ts';

/** The plan in use and what was weighed so far. `roomMl`: volume of the mould to its brim, if it limits. */
export type WeighedSoFar = {
  recipe: RecipeInput;
  purity: Purity;
  lines: PlanLine[];
  scale: Scale;
  scaleByKind?: ScaleByKind;
  readings: MadeReading[];
  roomMl?: number;
};

export type Act = 'go on' | 'new target' | 'add' | 'take out' | 'discard';

/** The safe next act. `lines`: what is still to be weighed or changed; empty when the batch is discarded. */
export type NextAct = {
  act: Act;
  lines: NextLine[];
  /** Worst case once the act is done and the rest weighed within its ranges; as it stands for 'discard'. */
  superfatBandPercent: Interval;
  lyeConcentrationPercent: number;
  volumeMl: Interval;
  words: string;
};

const ACTS: Record<NextLine['does'], Act> = { weigh: 'go on', 'new target': 'new target', add: 'add', 'take out': 'take out' };
const ORDER: Act[] = ['take out', 'add', 'new target', 'go on'];

function check(so: WeighedSoFar): FormulationProblem[] {
  const others = Object.entries(so.scaleByKind ?? {}).flatMap(([kind, scale]) => checkScale(scale, `/scaleByKind/${kind}`));
  const room = so.roomMl === undefined ? [] : checkNumber(so.roomMl, '/roomMl', { name: 'The mould volume', unit: 'mL', min: 20, max: 1_000_000 });
  return [...checkRecipe(so.recipe, so.purity), ...checkScale(so.scale), ...others, ...checkReadings(so.lines, so.readings), ...room];
}

/** One line on its way: what it is now, and the line to be weighed for it, if any. */
type Step = { states: LineState[]; next: NextLine[] };

/** Fat under its range is topped up to its target, in its cup or on top of the pot; more fat is always safe. */
function topUpFats(states: readonly LineState[], scaleOf: ScaleOf): Step {
  const next: NextLine[] = [];
  const after = states.map((state): LineState => {
    const { line, where, mass } = state;
    if (line.kind !== 'fat') return state;
    if (where === 'not weighed') next.push({ ...line, does: 'weigh', of: 'whole', changeMg: line.targetMg });
    if (where === 'not weighed' || mass.nominal >= line.acceptLowMg) return state;
    const { stepMg } = scaleOf('fat');
    const shortMg = line.targetMg - mass.nominal;
    if (where === 'cup') {
      next.push({ ...line, does: 'add', of: 'whole', changeMg: shortMg });
      return { ...state, mass: trueMassOf(line, scaleOf('fat')) };
    }
    const added = fatOnTop(line, Math.ceil(shortMg / stepMg) * stepMg, stepMg);
    next.push({ ...added, does: 'add', of: 'addition', changeMg: added.targetMg });
    return withFatOnTop([state], [added], scaleOf)[0] ?? state;
  });
  return { states: after, next };
}

/** As planned: every fat and acid within its range and no alkali in the pot past its range; then the plan's targets hold. */
function asPlanned(states: readonly LineState[]): boolean {
  return states.every(({ line, where, mass }) => {
    if (line.kind === 'fat' || line.kind === 'acid') return mass.nominal >= line.acceptLowMg && mass.nominal <= line.acceptHighMg;
    return !isAlkali(line.kind) || where !== 'pot' || (mass.nominal >= line.acceptLowMg && mass.nominal <= line.acceptHighMg);
  });
}

/** What one alkali line in its cup needs to come to `target`: nothing, a weighing, an addition or a removal. */
function alkaliStep(state: LineState, target: PlanLine): NextLine | null {
  const nowMg = state.mass.nominal;
  if (state.where === 'not weighed') {
    const kept = target.targetMg === state.line.targetMg;
    return { ...target, does: kept ? 'weigh' : 'new target', of: 'whole', changeMg: target.targetMg };
  }
  if (nowMg > target.acceptHighMg) return { ...target, does: 'take out', of: 'whole', changeMg: target.targetMg - nowMg };
  if (nowMg < target.acceptLowMg) return { ...target, does: 'add', of: 'whole', changeMg: target.targetMg - nowMg };
  return null;
}

/**
 * Alkali not in the pot gets the plan's target or a new one. Alkali that is in the pot and fell short
 * stays so: more superfat hurts nobody, and dry lye is not opened again over a hot pot. Nor does the
 * other alkali make up for it: once one is in the pot no target rises above the plan's.
 */
function settleAlkali(so: WeighedSoFar, states: readonly LineState[], scaleOf: ScaleOf): Step {
  const free = states.filter((state) => isAlkali(state.line.kind) && state.where !== 'pot');
  const planned = new Map(free.map(({ line }) => [line.key, line]));
  const safe = bandOf(so.recipe, so.purity, withTargets(states, planned, scaleOf)).low >= so.recipe.superfatFloorPercent;
  const keys = free.map((state) => state.line.key);
  const targets = asPlanned(states) && safe ? planned : alkaliTargets(so.recipe, so.purity, states, keys, scaleOf);
  const begun = hasAlkaliInPot(states);
  const next: NextLine[] = [];
  let after = [...states];
  for (const state of free) {
    const found = targets.get(state.line.key);
    const target = found && begun && found.targetMg > state.line.targetMg ? state.line : found;
    const step = target ? alkaliStep(state, target) : null;
    if (!target || !step) continue;
    next.push(step);
    after = withTargets(after, new Map([[target.key, target]]), scaleOf);
  }
  return { states: after, next };
}

function hasAlkaliInPot(states: readonly LineState[]): boolean {
  return states.some((state) => isAlkali(state.line.kind) && state.where === 'pot');
}

const forThePot = (line: PlanLine): boolean => ['water', 'ice', 'liquid', 'acid'].includes(line.kind) && line.into !== 'fats';

/** Once alkali is in the pot nothing more is poured onto it: what should have been there and was not weighed stays out, and counts as nothing. */
function withoutMissed(states: readonly LineState[]): LineState[] {
  if (!hasAlkaliInPot(states)) return [...states];
  return states.map((state) => (state.where === 'not weighed' && forThePot(state.line) ? { ...state, where: 'left out', mass: NOTHING } : state));
}

/**
 * Water, ice, other liquids, acids and additives not yet weighed; the liquid follows the alkali to keep
 * its concentration.
 */
function restOf(states: readonly LineState[], scaleOf: ScaleOf, ratio: number): Step {
  const next: NextLine[] = [];
  const after = states.map((state): LineState => {
    const { line } = state;
    if (line.kind === 'fat' || isAlkali(line.kind) || state.where !== 'not weighed') return state;
    const { stepMg } = scaleOf(line.kind);
    const follows = line.kind !== 'additive' && line.kind !== 'acid' && Math.abs(ratio - 1) > 0.02;
    const target = follows ? lineAt(line, nearestStep(line.targetMg * ratio, stepMg), stepMg) : line;
    next.push({ ...target, does: follows ? 'new target' : 'weigh', of: 'whole', changeMg: target.targetMg });
    return { ...state, mass: trueMassOf(target, scaleOf(line.kind)) };
  });
  return { states: after, next };
}

/** Alkali at its nominal masses over the plan's, 1 when there is none. */
function alkaliRatio(states: readonly LineState[]): number {
  const alkali = states.filter((state) => isAlkali(state.line.kind));
  const planned = alkali.reduce((sum, state) => sum + state.line.targetMg, 0);
  const now = alkali.reduce((sum, state) => sum + state.mass.nominal, 0);
  return planned > 0 && now > 0 ? now / planned : 1;
}

function figuresAfter(so: WeighedSoFar, states: readonly LineState[]): ReturnType<typeof figuresOf> {
  return figuresOf(
    so.recipe,
    states.map((state) => ({ ...state.line, massMg: Math.round(state.mass.nominal) })),
  );
}

/** The rescue of a pot with too much alkali: fat on top, or null for "discard", with the reason. */
function rescue(so: WeighedSoFar, step: Step, scaleOf: ScaleOf): { step: Step | null; why: string } {
  const added = fatThatRestores(so.recipe, so.purity, step.states, scaleOf);
  if (!added) return { step: null, why: 'More fat than the batch itself would be needed.' };
  const states = withFatOnTop(step.states, added, scaleOf);
  const volumeMl = figuresAfter(so, states).volumeMl.nominal;
  if (so.roomMl !== undefined && volumeMl > so.roomMl) {
    return {
      step: null,
      why: `With the fat that is needed the batch is about ${Math.ceil(volumeMl)} mL and no longer fits the mould of ${Math.floor(so.roomMl)} mL.`,
    };
  }
  const onTop = added.map((line): NextLine => ({ ...line, does: 'add', of: 'addition', changeMg: line.targetMg }));
  return { step: { states, next: [...step.next, ...onTop] }, why: '' };
}

/** Past what dissolves, alkali stays solid; water may still be added only while no alkali is in it. */
function tooStrong(states: readonly LineState[], concentrationPercent: number): boolean {
  const mass = (kind: 'naoh' | 'koh'): number => states.find((state) => state.line.kind === kind)?.mass.nominal ?? 0;
  const all = mass('naoh') + mass('koh');
  return concentrationPercent > solubilityPercent(all > 0 ? mass('koh') / all : 0);
}

/** Liquid in its cups brought up to the plan, before any alkali is in it; lines that are not short stay. */
function topUpLiquid(step: Step, scaleOf: ScaleOf): Step {
  const next = [...step.next];
  const states = step.states.map((state): LineState => {
    const { line, mass } = state;
    const liquid = line.kind === 'water' || line.kind === 'ice' || line.kind === 'liquid';
    if (!liquid || state.where === 'not weighed' || state.where === 'left out' || mass.nominal >= line.acceptLowMg) return state;
    next.push({ ...line, does: 'add', of: 'whole', changeMg: line.targetMg - mass.nominal });
    return { ...state, mass: trueMassOf(line, scaleOf(line.kind)) };
  });
  return { states, next };
}

/**
 * The safe next act from the readings already made. Fat that is short is topped up; alkali still
 * outside the pot gets a target that fits the fats as they were really weighed, and what is over
 * comes out of its cup; alkali that is short in its cup is added. Once alkali is in the pot nothing
 * more goes in there but alkali still planned: too little only leaves more superfat, too much is met
 * with fat in the blend of the recipe, as long as it fits the mould; else the batch is discarded. Too
 * little or too much water only moves the concentration, which is said, until the alkali would not
 * dissolve.
 *
 * Gate: whatever is proposed, the superfat of the worst case, with every reading made and to be made
 * wrong by its scale's limit, is at or above the floor of the recipe; otherwise the act is 'discard'.
 * Refuses a bad recipe or scale and readings that belong to no line. Masses in mg, volume in mL.
 */
export function recompute(so: WeighedSoFar): Outcome<NextAct> {
  const problems = check(so);
  if (problems.length > 0) return refuse(problems);
  const scaleOf: ScaleOf = (kind) => so.scaleByKind?.[kind] ?? so.scale;
  const begun = withoutMissed(lineStates(so.lines, so.readings, scaleOf));
  const fats = topUpFats(begun, scaleOf);
  const alkali = settleAlkali(so, fats.states, scaleOf);
  const rest = restOf(alkali.states, scaleOf, alkaliRatio(alkali.states));
  let step: Step = { states: rest.states, next: [...fats.next, ...alkali.next, ...rest.next] };
  const isLow = (): boolean => bandOf(so.recipe, so.purity, step.states).low < so.recipe.superfatFloorPercent;
  if (isLow()) {
    const found = rescue(so, step, scaleOf);
    if (!found.step) return discard(so, begun, found.why);
    step = found.step;
  }
  if (tooStrong(step.states, figuresAfter(so, step.states).potConcentrationPercent)) {
    if (!hasAlkaliInPot(begun)) step = topUpLiquid(step, scaleOf);
    if (tooStrong(step.states, figuresAfter(so, step.states).potConcentrationPercent)) {
      return discard(so, begun, 'There is too little water for the alkali to dissolve, and water is never poured onto lye.');
    }
  }
  return isLow() ? discard(so, begun, 'No addition brings it back.') : succeed(answer(so, step));
}

function answer(so: WeighedSoFar, step: Step): NextAct {
  const acts = step.next.map((line) => ACTS[line.does]);
  const act = ORDER.find((each) => acts.includes(each)) ?? 'go on';
  const superfatBandPercent = bandOf(so.recipe, so.purity, step.states);
  const { lyeConcentrationPercent, volumeMl } = figuresAfter(so, step.states);
  const words = wordsFor(step.next, superfatBandPercent, lyeConcentrationPercent);
  return { act, lines: step.next, superfatBandPercent, lyeConcentrationPercent, volumeMl, words };
}

function discard(so: WeighedSoFar, states: readonly LineState[], why: string): Outcome<NextAct> {
  const superfatBandPercent = bandOf(so.recipe, so.purity, states);
  const { lyeConcentrationPercent, volumeMl } = figuresAfter(so, states);
  const words = `Stop and discard this batch as caustic waste, by the supplier's safety data sheet and local rules. ${why}`;
  return succeed({ act: 'discard', lines: [], superfatBandPercent, lyeConcentrationPercent, volumeMl, words });
}
