import type { CardStep, ProposalOut, Verdict } from '@ashwater/contracts';
import { potOf, recompute } from '@ashwater/formulation';
import type { NextAct, PlanLine, Purity, RecipeInput, Scale, ScaleByKind } from '@ashwater/formulation';
import type { z } from 'zod';
import { DomainProblem } from '../../problems/domain-problem.ts';
import { changeFrom, madeReadings, planLinesOf } from './change.ts';
import type { CardNow } from './change.ts';
import { effectiveContent } from './effective.ts';
import type { ChangeContent } from './effective.ts';

/** What a card was worked out from, so that it can be worked out again from its readings. */
export type CardBasis = { recipe: RecipeInput; purity: Purity; scale: Scale; scaleByKind: ScaleByKind };
export type Proposal = Omit<ProposalOut, 'basis' | 'lines'> & { content: ChangeContent };
export type Stray = { step: CardStep; verdict: z.infer<typeof Verdict> | undefined };

/** The step whose turn it is and whose reading is off, or why there is nothing to change. */
function requireStray(now: CardNow, stepNo: number, verdict: z.infer<typeof Verdict> | undefined): CardStep {
  const step = now.content.steps.find((each) => !now.doneNos.has(each.no));
  if (!step || step.no !== stepNo) throw new DomainProblem('step-out-of-order', 'The station is at another step by now. Look at it again.');
  const line = now.content.lines.find((each) => each.key === step.lineKey);
  if (step.kind !== 'weigh' || !line) throw new DomainProblem('nothing-to-change', 'This step weighs nothing, so there is nothing to work out again.');
  if (!verdict || !now.readings.has(stepNo)) throw new DomainProblem('nothing-to-change', 'Enter what the scale shows first.');
  if (verdict === 'within') throw new DomainProblem('nothing-to-change', 'The reading is within its range: go on with the card.');
  if (line.kind === 'additive')
    throw new DomainProblem(
      'nothing-to-change',
      `${line.name} stands in a cup of its own: weigh it again until it is within its range. Its limit is the supplier's.`,
    );
  return step;
}

function mixedNos(now: CardNow, stepNo: number, mixed: boolean): Set<number> {
  const flagged = now.changes.filter((change) => change.content.mixed).map((change) => change.stepNo);
  return new Set(mixed ? [...flagged, stepNo] : flagged);
}

const againstFloor = (next: NextAct, basis: CardBasis): boolean => next.act === 'discard' || next.superfatBandPercent.low >= basis.recipe.superfatFloorPercent;

function askedAgain(now: CardNow, lines: PlanLine[], basis: CardBasis, flagged: ReadonlySet<number>) {
  const made = madeReadings(now, flagged);
  const next = recompute({ ...basis, lines, readings: made });
  if (!next.ok) throw new DomainProblem('card-not-safe', next.problems[0]?.detail ?? 'It could not be worked out.');
  return { made, next: next.value };
}

/**
 * What can be done after the reading of a step strayed, worked out from every reading in force; `mixed` says that what was
 * weighed is in the pot. Never proposes what could bring the worst case under the recipe's floor: the card with the change in
 * it is worked out a second time, and must say the same.
 * @throws DomainProblem when nothing is off, another step's turn has come, or the card cannot be worked out again
 */
export function propose(now: CardNow, basis: CardBasis | undefined, asked: { stepNo: number; mixed: boolean }, verdict: Stray['verdict']): Proposal {
  const step = requireStray(now, asked.stepNo, verdict);
  if (!basis)
    throw new DomainProblem(
      'nothing-to-change',
      'This card is from before cards could be worked out again. Bring the reading into its range, or discard the batch.',
    );
  const flagged = mixedNos(now, asked.stepNo, asked.mixed);
  const { made, next } = askedAgain(now, planLinesOf(now.content), basis, flagged);
  const content = changeFrom(now, step, next, made, asked.mixed);
  const change = { id: '', stepNo: step.no, act: next.act, words: next.words, content, at: '', byName: '' };
  if (next.act !== 'discard') {
    const after = effectiveContent(now.content, [change]);
    content.potConcentrationPercent = potConcentrationPercent(basis.recipe, planLinesOf(after));
    const second = askedAgain({ ...now, content: after, changes: [...now.changes, change] }, planLinesOf(after), basis, flagged).next;
    if (second.act === 'discard' || !againstFloor(next, basis) || !againstFloor(second, basis))
      throw new DomainProblem(
        'card-not-safe',
        `With this change the superfat could fall under ${basis.recipe.superfatFloorPercent} %. Do not go on; ask your instructor.`,
      );
  }
  const { superfatBandPercent, lyeConcentrationPercent } = next;
  return { ...asked, act: next.act, words: `${next.words}${room(now, next)}`, superfatBandPercent, lyeConcentrationPercent, content };
}

/** Alkali as weighed over alkali and all water in the lye pot, percent. */
function potConcentrationPercent(recipe: RecipeInput, lines: PlanLine[]): number {
  const { naohMg, kohMg, waterMg, iceMg } = potOf(recipe, lines);
  return (100 * (naohMg + kohMg)) / Math.max(1, naohMg + kohMg + waterMg + iceMg);
}

function room(now: CardNow, next: NextAct): string {
  const volumeMl = Math.ceil(next.volumeMl.nominal);
  const { mouldVolumeMl, mouldName, batchMassMg } = now.issued;
  const grew = next.lines.some((line) => line.of === 'addition' && line.changeMg > batchMassMg / 50);
  if (next.act === 'discard' || !grew || volumeMl <= mouldVolumeMl) return '';
  return ` The batch is then about ${volumeMl} mL, and ${mouldName} holds ${mouldVolumeMl} mL: have a second mould ready.`;
}
