import { MOST_PICTURES } from '@ashwater/contracts';
import type { AmendmentOut } from '@ashwater/contracts';
import type { Actor } from '../../actor.ts';
import { dayIn, utcDay } from '../../days.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import * as store from './amend-store.ts';
import { isReviewer } from './note-of.ts';
import { cleanPicture, PictureRefused } from './picture.ts';
import { notes, writerOf } from './store.ts';

export async function amendmentsOf(tx: Tx, studio: { id: string; timeZone: string }, noteId: string): Promise<AmendmentOut[]> {
  // An answer by return code is dated by the UTC day alone: its midnight is the evening before in half of the world.
  const dayOf = (kind: string, at: Date) => (kind === 'answer' ? utcDay(at) : dayIn(studio.timeZone, at));
  return (await store.amendments(tx, studio.id, noteId)).map(({ at, ...rest }) => ({ ...rest, on: dayOf(rest.kind, at) }));
}

/** The note that this person may add to: a reviewer any, everybody else their own. Another's is not found, so that nobody learns of it. */
async function openTo({ tx, studio, actor }: Context<Tx, Actor>, noteId: string): Promise<{ signing: string; own: boolean }> {
  const [note] = await notes(tx, studio.id, noteId);
  const writer = note && (await writerOf(tx, studio.id, noteId));
  const own = writer !== undefined && (actor.kind === 'seat' ? writer.seatId === actor.id : writer.accountId === actor.id);
  if (!note || note.erasedOn !== null || !(own || isReviewer(actor))) throw notFound('The note');
  return { signing: note.signing, own };
}

/** Adds to a note: the writer what they left out, a reviewer a question. The note itself stays as it was told. */
export async function addToNote(context: Context<Tx, Actor>, noteId: string, input: { id: string; text: string }): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const { signing, own } = await openTo(context, noteId);
  const byName = own && signing !== 'named' ? null : actor.name;
  await store.insertAmendment(tx, studio.id, { ...input, noteId, kind: own ? 'added' : 'question', byName, at: now });
  if (!own) await audit(context, 'asked about a note', `note:${noteId}`);
  return { id: input.id };
}

/** The picture as it may be kept, with a refusal at its field. */
export async function readPicture(base64: string) {
  try {
    return await cleanPicture(Buffer.from(base64, 'base64'));
  } catch (error) {
    if (error instanceof PictureRefused) throw inputRefused('/base64', error.message);
    throw error;
  }
}

export async function addPicture(context: Context<Tx, Actor>, noteId: string, input: { id: string; base64: string }): Promise<{ id: string }> {
  const { tx, studio } = context;
  await openTo(context, noteId);
  await refuseOneTooMany(tx, studio.id, noteId);
  await store.insertPicture(tx, studio.id, { ...(await readPicture(input.base64)), id: input.id, noteId });
  return { id: input.id };
}

export async function refuseOneTooMany(tx: Tx, studioId: string, noteId: string): Promise<void> {
  if ((await store.pictures(tx, studioId, noteId)).length >= MOST_PICTURES)
    throw inputRefused('/base64', `A note keeps ${MOST_PICTURES} pictures at most. Nothing of the note is lost.`);
}

export async function readPictureBytes({ tx, studio }: StaffContext, id: string): Promise<Buffer> {
  const bytes = await store.pictureBytes(tx, studio.id, id);
  if (!bytes) throw notFound('The picture');
  return bytes;
}
