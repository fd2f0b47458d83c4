import type { FileNote, NoteFiled, NoteOut, NoteSummary, ReviewNote } from '@ashwater/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { dayIn } from '../../days.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { notFound } from '../../problems/domain-problem.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { audit, auditAs } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { amendmentsOf } from './amend-service.ts';
import * as pictures from './amend-store.ts';
import { followUpsOf } from './follow-ups/service.ts';
import { asWriter, requireNote } from './note-of.ts';
import { insertNumbered } from './numbering.ts';
import { newReturnCode, returnHashOf } from './return-code.ts';
import { choicesOf, triageOf } from './review/service.ts';
import { sameAs } from './review/store.ts';
import { priorityOf } from './review/priority.ts';
import * as store from './store.ts';

export { changesInForce, overdueFollowUps } from './follow-ups/service.ts';
export { unreviewedOf } from './store.ts';

/**
 * Files a note under the writer's name, or in confidence. Neither audit nor event carries a word of it; of one in confidence they do not
 * say who either, and the event not in which class.
 */
export async function fileNote(context: Context<Tx, Actor>, { signing, ...input }: FileNote): Promise<NoteFiled> {
  const { tx, studio, actor, now } = context;
  const classId = actor.kind === 'seat' ? actor.classId : input.classId;
  if (classId !== null && !(await store.classExists(tx, studio.id, classId))) throw notFound('The class');
  const returnCode = newReturnCode();
  const number = await insertNumbered(tx, studio.id, {
    ...input,
    signing,
    classId,
    cardId: actor.kind === 'seat' ? await store.cardAt(tx, studio.id, actor.classStationId) : null,
    happenedOn: dayIn(studio.timeZone, now),
    filedAt: now,
    returnHash: returnHashOf(returnCode),
  });
  await store.insertIdentity(tx, studio.id, input.id, signing, { byName: actor.name, ...asWriter(actor) });
  const open = signing === 'named';
  const subject = `note:${input.id}`;
  if (open) await audit(context, 'filed a note', subject, { kind: input.kind });
  else await auditAs(tx, { studioId: studio.id, at: now, actor: 'in confidence', action: 'filed a note', subject, detail: { kind: input.kind } });
  await announce(context, { kind: 'note-filed', classId: open ? classId : null });
  return { id: input.id, number, returnCode };
}

const summaryOf = ({ id, number, kind, signing, what, place, happenedOn, reviewed, actual, potential, toldWith }: store.NoteRow): NoteSummary => ({
  id,
  number,
  kind,
  signing,
  what,
  place,
  happenedOn,
  reviewed,
  priority: priorityOf(actual, potential),
  toldWith,
});

export async function listNotes({ tx, studio }: StaffContext): Promise<NoteSummary[]> {
  return (await store.notes(tx, studio.id)).map(summaryOf);
}

export async function readNote(context: StaffContext, id: string): Promise<NoteOut> {
  const { tx, studio } = context;
  const note = await requireNote(context, id);
  const reviews = await store.reviews(tx, studio.id, [id]);
  const { harms, whenWords, stepTitle, how, whatStoppedIt, doneAtOnce, classTitle, cardNumber, byName, erasedOn } = note;
  return {
    ...summaryOf(note),
    ...{ harms, whenWords, stepTitle, how, whatStoppedIt, doneAtOnce, classTitle, cardNumber, byName, erasedOn },
    reviews: reviews.map((review) => ({ ...review, at: review.at.toISOString() })),
    amendments: await amendmentsOf(tx, studio, id),
    pictures: await pictures.pictures(tx, studio.id, id),
    triage: await triageOf(context, id),
    sameAs: await sameAs(tx, studio.id, id),
    followUps: await followUpsOf(context, { noteIds: [id] }),
    choices: await choicesOf(context, note),
  };
}

/** Who told a note in confidence. Every asking stands in the audit, before the answer is given. */
export async function askWriter(context: StaffContext, id: string): Promise<{ byName: string }> {
  const note = await requireNote(context, id);
  const writer = await store.writerOf(context.tx, context.studio.id, id);
  if (!writer || writer.byName === '') throw notFound('The name of whoever told this note');
  await audit(context, note.signing === 'confidential' ? 'read who told a note in confidence' : 'read who told a note', `note:${id}`);
  return { byName: writer.byName };
}

/** Adds what was looked into and learned. A note can be reviewed more than once; no review replaces another. */
export async function reviewNote(context: StaffContext, noteId: string, input: z.infer<typeof ReviewNote>): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await requireNote(context, noteId);
  await store.insertReview(tx, studio.id, { ...input, noteId, accountId: actor.id, at: now });
  await audit(context, 'reviewed a note', `note:${noteId}`, { outcome: input.outcome });
  await announce(context, { kind: 'note-reviewed', subjectId: noteId });
  return { id: input.id };
}
