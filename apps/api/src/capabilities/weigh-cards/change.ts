import type { CardContent, CardStep } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { MadeReading, NextAct, NextLine, PlanLine } from '@ashwater/formulation';
import type { CardChange, ChangeContent, Target } from './effective.ts';

/** A card in the middle of its work: as it stands with earlier changes, and as it was issued. */
export type CardNow = {
  content: CardContent;
  issued: CardContent;
  changes: readonly CardChange[];
  doneNos: ReadonlySet<number>;
  /** The reading in force of each step that weighs. */
  readings: ReadonlyMap<number, { id: string; massMg: number }>;
};

const isAlkali = (kind: string): boolean => kind === 'naoh' || kind === 'koh';
const targetOf = ({ targetMg, acceptLowMg, acceptHighMg }: Target): Target => ({ targetMg, acceptLowMg, acceptHighMg });
const plus = (massMg: number, { targetMg, acceptLowMg, acceptHighMg }: Target): Target => ({
  targetMg: massMg + targetMg,
  acceptLowMg: massMg + acceptLowMg,
  acceptHighMg: massMg + acceptHighMg,
});

/** The lines of the card in the shape the formulation package weighs by. */
export const planLinesOf = (content: Pick<CardContent, 'lines'>): PlanLine[] => content.lines.map((line) => ({ ...line, massMg: line.targetMg }));

/**
 * Whether what a step weighed is out of its cup by now. Fat is, once anything came after it: the next fat goes into the same
 * bowl. Alkali and liquid are, once a caustic step that is no weighing is done: when in doubt it counts as in the pot, for
 * what is thought to be in a cup would be asked out of it.
 */
function isStirredIn(now: CardNow, step: CardStep, kind: string): boolean {
  const after = now.content.steps.slice(now.content.steps.findIndex((each) => each.no === step.no) + 1).filter((each) => now.doneNos.has(each.no));
  return kind === 'fat' ? after.length > 0 : after.some((each) => each.caustic && each.kind !== 'weigh');
}

/** What was weighed of each line so far. `mixedNos`: steps of which somebody saw that it is in the pot. */
export function madeReadings(now: CardNow, mixedNos: ReadonlySet<number>): MadeReading[] {
  return now.content.lines.flatMap((line) => {
    let made: MadeReading[] = [];
    for (const step of now.content.steps) {
      const reading = step.lineKey === line.key ? now.readings.get(step.no) : undefined;
      if (!reading) continue;
      const one = { key: line.key, readingMg: reading.massMg, mixed: mixedNos.has(step.no) || isStirredIn(now, step, line.kind) };
      made = step.weighs === 'again' ? [one] : [...made, one];
    }
    return made;
  });
}

function put(next: NextLine, no: number, model: CardStep | undefined): CardStep {
  const amount = formatMass(next.targetMg, next.stepMg);
  const change = formatMass(Math.abs(next.changeMg), next.stepMg);
  const words =
    next.does === 'take out'
      ? { title: `Take out ${next.name}`, instruction: `Take ${change} out with a dry spoon into the spare container, until the scale reads ${amount}.` }
      : next.of === 'addition'
        ? {
            title: `Add ${amount} of ${next.name}`,
            instruction: `Weigh it by itself into a clean dry cup, then add all of it.`,
          }
        : { title: `Weigh ${next.name}`, instruction: `Weigh until the scale reads ${amount}.` };
  return {
    no,
    kind: 'weigh',
    ...words,
    reason: 'Your instructor changed the card after a reading off target.',
    caution: model?.caution ?? null,
    caustic: isAlkali(next.kind) || (model?.caustic ?? false),
    lineKey: next.key,
    ...targetOf(next),
    lowC: null,
    highC: null,
    weighs: next.of === 'addition' ? 'addition' : 'again',
  };
}

const firstFree = (now: CardNow): number => now.issued.steps.length + now.changes.reduce((sum, change) => sum + change.content.steps.length, 0);
const ADDED_FROM = 101;

function discarding(now: CardNow, words: string): Pick<ChangeContent, 'steps' | 'removed'> {
  const caustic = now.issued.steps.find((each) => each.caustic && each.kind !== 'weigh');
  const step: CardStep = {
    no: ADDED_FROM + firstFree(now) - now.issued.steps.length,
    kind: 'do',
    title: 'Stop: this batch is waste',
    instruction: `${words} Weigh no more lye. Your instructor says where it goes.`,
    reason: 'No safe amount of anything brings it back.',
    caution: caustic?.caution ?? null,
    caustic: true,
    lineKey: null,
    targetMg: null,
    acceptLowMg: null,
    acceptHighMg: null,
    lowC: null,
    highC: null,
  };
  return { steps: [step], removed: now.content.steps.filter((each) => !now.doneNos.has(each.no) && each.kind !== 'clean').map((each) => each.no) };
}

/** What follows for a line other than the stray one: a new range for the step still to come, or a step of its own. */
type Effect = { target: Target; range?: [number, Target]; removed?: number; step?: NextLine };
function effectOn(now: CardNow, made: readonly MadeReading[], next: NextLine): Effect {
  const weighedMg = made.filter((each) => each.key === next.key).reduce((sum, each) => sum + each.readingMg, 0);
  if (next.of === 'addition') return { target: plus(weighedMg, next), step: next };
  const target = targetOf(next);
  const toCome = now.content.steps.find((each) => each.lineKey === next.key && !each.weighs && !now.doneNos.has(each.no) && !now.readings.has(each.no));
  if (!toCome) return { target, step: next };
  return next.targetMg === 0 ? { target, removed: toCome.no } : { target, range: [toCome.no, target] };
}

/** The change of the card that the package's next act comes to, about the step whose reading strayed. */
export function changeFrom(now: CardNow, stray: CardStep, next: NextAct, made: readonly MadeReading[], mixed: boolean): ChangeContent {
  const reading = now.readings.get(stray.no);
  const strayMg = reading?.massMg ?? 0;
  const basis = [...now.readings.values()].map((each) => each.id).sort();
  const figures = { basis, mixed, superfatBandPercent: next.superfatBandPercent, lyeConcentrationPercent: next.lyeConcentrationPercent };
  if (next.act === 'discard') return { ...figures, targets: {}, ranges: {}, lines: [], ...discarding(now, next.words) };

  const totalMg = made.filter((each) => each.key === stray.lineKey).reduce((sum, each) => sum + each.readingMg, 0);
  const again = next.lines.find((line) => line.key === stray.lineKey && line.of === 'whole');
  const exactly = (massMg: number): Target => ({ targetMg: massMg, acceptLowMg: massMg, acceptHighMg: massMg });
  const targets: Record<string, Target> = { [stray.lineKey ?? '']: again ? targetOf(again) : exactly(totalMg) };
  const ranges: Record<number, Target> = { [stray.no]: again ? plus(strayMg - totalMg, again) : exactly(strayMg) };
  // Steps of an earlier change that nobody began: what is still needed of them is in this one.
  const removed = now.content.steps.filter((each) => each.weighs && !now.doneNos.has(each.no) && !now.readings.has(each.no)).map((each) => each.no);
  const steps: CardStep[] = [];
  const planned = new Map(now.content.lines.map((line) => [line.key, line]));
  for (const line of next.lines) {
    const before = planned.get(line.key);
    if (line === again || (line.does === 'weigh' && line.targetMg === before?.targetMg)) continue;
    const effect = effectOn(now, made, line);
    targets[line.key] = effect.target;
    if (effect.range) ranges[effect.range[0]] = effect.range[1];
    if (effect.removed) removed.push(effect.removed);
    if (effect.step)
      steps.push(
        put(
          effect.step,
          ADDED_FROM + firstFree(now) - now.issued.steps.length + steps.length,
          now.issued.steps.find((each) => each.lineKey === line.key),
        ),
      );
  }
  const lines = Object.entries(targets).flatMap(([key, target]) => {
    const line = planned.get(key);
    return line && line.targetMg !== target.targetMg ? [{ key, name: line.name, wasMg: line.targetMg, targetMg: target.targetMg }] : [];
  });
  return { ...figures, targets, ranges, steps, removed, lines };
}
