import type { EnterPaper, PaperEntered } from '@ashwater/contracts';
import type { CardStep } from '@ashwater/contracts';
import type { z } from 'zod';
import { DomainProblem } from '../../problems/domain-problem.ts';
import type { StaffContext } from '../../request-context.ts';
import { gateOnRecord } from '../gear/service.ts';
import * as checks from './check-store.ts';
import { massOf } from './check-service.ts';
import { currentStep, requireFinished, requireStep } from './progress.ts';
import { readingsAgree, stepMgOf, weighsCaustic } from './second-reading.ts';
import { openCard, writeReading, writeStepDone } from './open-card-service.ts';
import type { Standing } from './open-card-service.ts';

/*
 * What was written on a printed card, entered afterwards by staff. The same rules in the same order; only the gear gate is
 * read from what is on record, since by now the people may have left and their sign-off may have run out.
 */
export async function openPaperCard(context: StaffContext, cardId: string): Promise<Standing> {
  const state = await openCard(context, cardId);
  const gate = await gateOnRecord(context.tx, context.studio.id, state.row.class_station_id, cardId);
  return { ...state, gate, classStatus: state.classStatus === 'closed' ? 'published' : state.classStatus };
}

export function requirePaperStep(state: Standing, stepNo: number): CardStep {
  const step = state.steps.find((each) => each.no === stepNo);
  if (step?.caustic && !state.gate.open)
    throw new DomainProblem(
      'gear-not-signed',
      `No gear sign-off is on record for ${state.gate.waitingFor.join(', ') || 'anybody'} with this card. If gear was signed on paper, put the person at the station on the floor page, let them confirm it there and sign it. If it was not, enter nothing more and file a note.`,
    );
  return requireStep(state, stepNo);
}

type Line = z.infer<typeof EnterPaper>['lines'][number];

/** A second reading as it stands on the card: by the name written there, entered by whoever copies it. */
async function copySecond(context: StaffContext, state: Standing, step: CardStep, line: Line): Promise<void> {
  const { tx, actor, studio, now } = context;
  if (!line.second || line.second.byName === '' || line.second.entered === '') return;
  const first = state.readingRows.find((row) => row.id === line.id)!;
  const massMg = massOf(line.second.entered);
  const agrees = readingsAgree(first.mass_mg ?? 0, massMg, stepMgOf(state.row.content, step));
  await checks.insertCheck(tx, {
    studioId: studio.id,
    id: line.second.id,
    readingId: line.id,
    byName: line.second.byName,
    seatId: null,
    accountId: actor.id,
    entered: line.second.entered,
    massMg,
    agrees,
    at: now,
  });
}

async function copyLine(context: StaffContext, cardId: string, line: Line): Promise<void> {
  let state = await openPaperCard(context, cardId);
  const step = requirePaperStep(state, line.stepNo);
  if (step.kind === 'weigh' || step.kind === 'temperature') {
    if (line.entered === '') throw new DomainProblem('reading-off-target', 'No reading is written for this step.');
    const supersedesId = state.standing.get(step.no)?.id ?? null;
    await writeReading(context, state, step, { id: line.id, entered: line.entered, supersedesId, source: 'paper' });
    state = await openPaperCard(context, cardId);
    if (weighsCaustic(state.row.content, step) && state.standing.get(step.no)?.second === 'needed') await copySecond(context, state, step, line);
    state = await openPaperCard(context, cardId);
  }
  requireFinished(state, step);
  await writeStepDone(context, state, step.no);
}

/** Enters line after line up to the first that the rules refuse; what stands before it is kept, and the answer says what to do. */
export async function enterPaper(context: StaffContext, cardId: string, input: z.infer<typeof EnterPaper>): Promise<PaperEntered> {
  let stopped: PaperEntered['stopped'] = null;
  let entered = 0;
  for (const line of input.lines) {
    try {
      await copyLine(context, cardId, line);
      entered += 1;
    } catch (error) {
      // A rule that refuses has written nothing: only what the rules let through is in the transaction.
      if (!(error instanceof DomainProblem) || error.code === 'not-found') throw error;
      stopped = { stepNo: line.stepNo, code: error.code, detail: error.message };
      break;
    }
  }
  const state = await openPaperCard(context, cardId);
  return { entered, currentStepNo: currentStep(state)?.no ?? null, stopped };
}
