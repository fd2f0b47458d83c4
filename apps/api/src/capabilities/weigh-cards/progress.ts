import type { CardStep, SecondReading, StopOut, Verdict } from '@ashwater/contracts';
import type { z } from 'zod';
import { DomainProblem } from '../../problems/domain-problem.ts';

/** A card as it stands at its station, gathered in one transaction. */
export type CardState = {
  steps: readonly CardStep[];
  doneNos: ReadonlySet<number>;
  /** The reading in force of each step: the one nothing supersedes. */
  standing: ReadonlyMap<number, { id: string; verdict: z.infer<typeof Verdict>; second: SecondReading }>;
  gate: { open: boolean; waitingFor: string[] };
  stopped: z.infer<typeof StopOut> | null;
  classStatus: string;
  voided: boolean;
  seatSignedOut: boolean;
};

export const currentStep = (state: Pick<CardState, 'steps' | 'doneNos'>): CardStep | undefined => state.steps.find((step) => !state.doneNos.has(step.no));

/**
 * The rule every act at a station passes: the class is open, the room is not stopped, the card is in force, the step is the
 * next one, and a caustic step only behind an open gear gate. Returns the step.
 * @throws DomainProblem with the first thing that stands in the way, the most urgent first
 */
export function requireStep(state: CardState, stepNo: number): CardStep {
  if (state.stopped) throw new DomainProblem('room-stopped', `${state.stopped.byName} stopped the room. Step back from the bench; an instructor clears it.`);
  if (state.classStatus !== 'published') throw new DomainProblem('class-not-open', 'This class is over.');
  if (state.voided) throw new DomainProblem('card-voided', 'This card was replaced. Open your station again for the new one.');
  if (state.seatSignedOut) throw new DomainProblem('seat-signed-out', 'You signed out of this station. Join again with its code.');
  const step = state.steps.find((each) => each.no === stepNo);
  const next = currentStep(state);
  if (!step) throw new DomainProblem('not-found', 'This card has no such step.');
  if (!next) throw new DomainProblem('step-out-of-order', 'Every step of this card is done.');
  if (state.doneNos.has(stepNo)) throw new DomainProblem('step-out-of-order', `Step ${stepNo} is done already. Go on with step ${next.no}: ${next.title}.`);
  if (next.no !== stepNo) throw new DomainProblem('step-out-of-order', `Step ${next.no} comes first: ${next.title}.`);
  if (step.caustic && !state.gate.open) {
    const who = state.gate.waitingFor.join(', ') || 'everybody at this station';
    throw new DomainProblem('gear-not-signed', `Caustic stays closed until the gear of ${who} is confirmed and countersigned.`);
  }
  return step;
}

/** What must be true before a step counts as done. */
export function requireFinished(state: CardState, step: CardStep): void {
  if (step.kind === 'label') throw new DomainProblem('jar-needed', 'Enter what is in the jar and put its label on first.');
  if (step.kind !== 'weigh' && step.kind !== 'temperature') return;
  const reading = state.standing.get(step.no);
  if (!reading) throw new DomainProblem('reading-off-target', 'Enter a reading first.');
  if (reading.verdict !== 'within')
    throw new DomainProblem('reading-off-target', 'The last reading is outside the accepted range. Correct it and enter a new reading.');
  if (reading.second === 'needed')
    throw new DomainProblem('second-reading-needed', 'Somebody else reads the scale first, without having seen the amount, and enters what it shows.');
  if (reading.second === 'disagrees')
    throw new DomainProblem('second-reading-needed', 'The two readings do not agree. Weigh again, then somebody else reads the scale again.');
}

/** A new reading must name the one it replaces, so that two people at one scale cannot overwrite each other unseen. */
export function requireSupersedes(state: CardState, stepNo: number, supersedesId: string | null): void {
  const standing = state.standing.get(stepNo)?.id ?? null;
  if (standing !== supersedesId)
    throw new DomainProblem('reading-superseded', 'Another reading was entered for this step meanwhile. Look at it, then enter yours again.');
}
