import type { ApproveChange, CardChangeOut, ProposalOut } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { Actor } from '../../actor.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { currentStop, lockRoom } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import type { CardNow } from './change.ts';
import { verdictNow } from './effective.ts';
import type { CardChange } from './effective.ts';
import { currentStep } from './progress.ts';
import { propose } from './proposal.ts';
import * as store from './store.ts';

export const changeOut = ({ id, stepNo, act, words, at, byName, content }: CardChange): CardChangeOut => ({
  id,
  stepNo,
  act,
  words,
  at,
  byName,
  lines: content.lines,
});

type Gathered = { now: CardNow; verdictOf(stepNo: number): ReturnType<typeof verdictNow> | undefined };
async function gather(tx: Tx, studioId: string, row: store.CardRow): Promise<Gathered> {
  const done = await store.stepsDone(tx, studioId, [row.id]);
  const rows = (await store.readings(tx, studioId, [row.id])).filter((reading) => !reading.superseded);
  const readings = new Map(
    rows.flatMap((reading) => (reading.mass_mg === null ? [] : [[reading.step_no, { id: reading.id, massMg: reading.mass_mg }] as const])),
  );
  const doneNos = new Set(done.map((step) => step.step_no));
  return {
    now: { content: row.content, issued: row.issued, changes: row.changes, doneNos, readings },
    verdictOf: (stepNo) => {
      const reading = rows.find((each) => each.step_no === stepNo);
      return reading && verdictNow(reading, row.content, row.changes);
    },
  };
}

/** What can be done after a reading strayed. Changes nothing; the instructor decides. */
export async function proposalFor(context: Context<Tx, Actor>, cardId: string, asked: { stepNo: number | null; mixed: boolean }): Promise<ProposalOut> {
  const { tx, actor, studio } = context;
  const row = await store.cardById(tx, studio.id, cardId);
  if (!row || (actor.kind === 'seat' && row.class_station_id !== actor.classStationId)) throw notFound('This weigh card');
  const { now, verdictOf } = await gather(tx, studio.id, row);
  const stepNo = asked.stepNo ?? currentStep({ steps: now.content.steps, doneNos: now.doneNos })?.no ?? 0;
  const { content, ...proposal } = propose(now, row.issued.basis, { stepNo, mixed: asked.mixed }, verdictOf(stepNo));
  return { ...proposal, lines: content.lines, basis: content.basis };
}

/**
 * The instructor approves what was proposed. Worked out again here, from the readings that stand now: a new reading, or
 * another answer than the one that was read, refuses it.
 */
export async function approveChange(context: StaffContext, cardId: string, input: ApproveChange): Promise<CardChangeOut> {
  const { tx, actor, studio, now } = context;
  const row = await store.cardById(tx, studio.id, cardId);
  if (!row) throw notFound('This weigh card');
  await lockRoom(tx, row.class_id, 'act');
  await store.lockCard(tx, cardId);
  const stopped = await currentStop(tx, studio.id, row.class_id);
  if (stopped) throw new DomainProblem('room-stopped', `${stopped.byName} stopped the room. Clear it first.`);
  // Read again under the lock: a colleague may have approved a change while this one waited.
  const fresh = (await store.cardById(tx, studio.id, cardId)) ?? row;
  if (fresh.class_status !== 'published') throw new DomainProblem('class-not-open', 'This class is over.');
  if (fresh.voided) throw new DomainProblem('card-voided', 'This card was replaced by a newer issue.');
  const gathered = await gather(tx, studio.id, fresh);
  const { act, words, content } = propose(gathered.now, fresh.issued.basis, { stepNo: input.stepNo, mixed: input.mixed }, gathered.verdictOf(input.stepNo));
  if (act !== input.act || content.basis.join() !== [...input.basis].sort().join())
    throw new DomainProblem('reading-superseded', 'Another reading was entered at this station meanwhile. Look at what is proposed now, then approve that.');
  await store.insertChange(tx, { studioId: studio.id, id: input.id, cardId, stepNo: input.stepNo, act, words, content, accountId: actor.id, at: now });
  await audit(context, 'changed a weigh card', `card:${cardId}`, { act, step: input.stepNo });
  await announce(context, { kind: 'card-changed', classId: fresh.class_id, classStationId: fresh.class_station_id, subjectId: input.id });
  return changeOut({ id: input.id, stepNo: input.stepNo, act, words, content, at: now.toISOString(), byName: actor.name });
}
