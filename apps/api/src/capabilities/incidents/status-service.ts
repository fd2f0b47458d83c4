import { randomUUID } from 'node:crypto';
import type { NoteStatus } from '@ashwater/contracts';
import type { Actor } from '../../actor.ts';
import { dayIn, utcDay } from '../../days.ts';
import { normalCode } from '../../ids.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { notFound } from '../../problems/domain-problem.ts';
import type { Context, OpenContext } from '../../request-context.ts';
import { readStudio } from '../people/service.ts';
import { amendmentsOf } from './amend-service.ts';
import { insertAmendment } from './amend-store.ts';
import { studioBehind } from './nameless/service.ts';
import { statesOf } from './follow-ups/service.ts';
import { returnHashOf } from './return-code.ts';
import { asWriter } from './note-of.ts';
import * as store from './store.ts';

type Place = { tx: Tx; studio: { id: string; timeZone: string }; now: Date };

/** What became of a note, for its reporter: what was learned and will be done, and of nobody a name. */
async function statusOf({ tx, studio, now }: Place, note: store.NoteRow): Promise<NoteStatus> {
  // What was put with another note is looked into there: its reporter sees that.
  const told = [note.id, ...(note.toldWithId ? [note.toldWithId] : [])];
  const reviews = await store.reviews(tx, studio.id, told);
  const added = await amendmentsOf(tx, studio, note.id);
  return {
    number: note.number,
    kind: note.kind,
    happenedOn: note.happenedOn,
    what: note.what,
    reviewed: reviews.length > 0,
    outcomes: reviews.map(({ outcome, learned, change }) => ({ outcome, learned, change })),
    amendments: added.map((each) => ({ ...each, byName: null })),
    followUps: await statesOf(tx, studio.id, told, dayIn(studio.timeZone, now)),
    toldWith: note.toldWith,
  };
}

/** The notes that this person told with a name or in confidence. */
export async function myNotes(context: Context<Tx, Actor>) {
  const { tx, studio, actor } = context;
  const rows = await store.notesBy(tx, studio.id, asWriter(actor));
  return Promise.all(rows.map(async (row) => ({ id: row.id, ...(await statusOf(context, row)) })));
}

async function byReturnCode(context: OpenContext, typedReturnCode: string, typedCode: string, work: (at: Place, note: store.NoteRow) => Promise<NoteStatus>) {
  const studioId = await studioBehind(context, typedCode);
  return context.db.transact(studioId, async (tx) => {
    const found = await store.byReturnHash(tx, studioId, returnHashOf(normalCode(typedReturnCode)));
    const [note] = found ? await store.notes(tx, studioId, found.id) : [];
    const studio = await readStudio(tx, studioId);
    if (!note || !studio) throw notFound('A note with this return code');
    return work({ tx, studio, now: context.now }, note);
  });
}

/** What became of a note, for whoever holds its return code. */
export const noteStatus = (context: OpenContext, returnCode: string, code: string): Promise<NoteStatus> => byReturnCode(context, returnCode, code, statusOf);

/**
 * An answer by return code. Of it too nothing is kept but its words and the day; the same words sent again within the day stand once.
 */
export const answerByCode = (context: OpenContext, returnCode: string, { code, text }: { code: string; text: string }): Promise<NoteStatus> =>
  byReturnCode(context, returnCode, code, async (at, note) => {
    const day = new Date(`${utcDay(context.now)}T00:00:00Z`);
    await store.takeTurn(at.tx, returnHashOf(normalCode(returnCode)));
    const earlier = await amendmentsOf(at.tx, at.studio, note.id);
    if (!earlier.some((each) => each.kind === 'answer' && each.text === text))
      await insertAmendment(at.tx, at.studio.id, { id: randomUUID(), noteId: note.id, kind: 'answer', text, byName: null, at: day });
    return statusOf(at, note);
  });
