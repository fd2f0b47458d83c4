import type { FileNote, NoteFiled, NoteOut, ReviewNote } from '@ashwater/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { dayIn } from '../../days.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { notFound } from '../../problems/domain-problem.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { insertNumbered } from './numbering.ts';
import * as store from './store.ts';

export { fileAnonymousNote, noteStatus } from './anonymous.ts';
export { unreviewedOf } from './store.ts';

/** Files a note under the writer's name. Neither audit nor event carries a word of it. */
export async function fileNote(context: Context<Tx, Actor>, input: FileNote): Promise<z.infer<typeof NoteFiled>> {
  const { tx, studio, actor, now } = context;
  const classId = actor.kind === 'seat' ? actor.classId : input.classId;
  if (classId !== null && !(await store.classExists(tx, studio.id, classId))) throw notFound('The class');
  const number = await insertNumbered(tx, studio.id, {
    ...input,
    classId,
    signing: 'named',
    happenedOn: dayIn(studio.timeZone, now),
    filedAt: now,
    byName: actor.name,
    seatId: actor.kind === 'seat' ? actor.id : null,
    accountId: actor.kind === 'staff' ? actor.id : null,
    returnHash: null,
  });
  await audit(context, 'filed a note', `note:${input.id}`, { kind: input.kind });
  await announce(context, { kind: 'note-filed', classId });
  return { id: input.id, number, returnCode: null };
}

export async function listNotes({ tx, studio }: StaffContext) {
  return store.notes(tx, studio.id);
}

export async function readNote({ tx, studio }: StaffContext, id: string): Promise<NoteOut> {
  const [note] = await store.notes(tx, studio.id, id);
  if (!note) throw notFound('The note');
  const reviews = await store.reviews(tx, studio.id, id);
  return { ...note, reviews: reviews.map((review) => ({ ...review, at: review.at.toISOString() })) };
}

/** Adds what was looked into and learned. A note can be reviewed more than once; no review replaces another. */
export async function reviewNote(context: StaffContext, noteId: string, input: z.infer<typeof ReviewNote>): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const [note] = await store.notes(tx, studio.id, noteId);
  if (!note) throw notFound('The note');
  await store.insertReview(tx, studio.id, { ...input, noteId, accountId: actor.id, at: now });
  await audit(context, 'reviewed a note', `note:${noteId}`, { outcome: input.outcome });
  await announce(context, { kind: 'note-reviewed', subjectId: noteId });
  return { id: input.id };
}
