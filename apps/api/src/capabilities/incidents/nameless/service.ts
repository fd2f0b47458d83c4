import { randomUUID } from 'node:crypto';
import type { FileAnonymousNote, NoteFiled } from '@ashwater/contracts';
import { utcDay } from '../../../days.ts';
import { normalCode } from '../../../ids.ts';
import type { Tx } from '../../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import type { OpenContext } from '../../../request-context.ts';
import { readStudio } from '../../people/service.ts';
import { readPicture, refuseOneTooMany } from '../amend-service.ts';
import { insertPicture } from '../amend-store.ts';
import { insertNumbered } from '../numbering.ts';
import { returnCodeOf, returnHashOf } from '../return-code.ts';
import * as store from '../store.ts';

export async function studioBehind({ db }: OpenContext, typedCode: string): Promise<string> {
  const studioId = await store.studioOfNoteCode(db.lookUp, normalCode(typedCode));
  if (studioId) return studioId;
  const detail = 'No studio, class or station has this code. It is on the weigh card, on the board and on the wall.';
  throw new DomainProblem('code-unknown', detail, [{ pointer: '/code', detail }]);
}

/** Which studio a code belongs to, and whom it calls in an emergency. */
export async function notePlace(context: OpenContext, code: string): Promise<{ studioName: string; emergencyPhone: string }> {
  const studioId = await studioBehind(context, code);
  const studio = await context.db.transact(studioId, (tx) => readStudio(tx, studioId));
  if (!studio) throw notFound('The studio');
  return { studioName: studio.name, emergencyPhone: studio.emergencyPhone };
}

/**
 * Files a note without its writer. One row is written and nothing else: no audit line, no event, no counter, no key.
 * The class stays out of it too (the code tells the studio only), the time is the UTC day, and the stored id is random,
 * because the sender's id carries its millisecond. The same note sent again gets the same answer and writes nothing.
 */
export async function fileAnonymousNote(context: OpenContext, { code, ...told }: FileAnonymousNote): Promise<NoteFiled> {
  const studioId = await studioBehind(context, code);
  const returnCode = returnCodeOf(told.id);
  const returnHash = returnHashOf(returnCode);
  const happenedOn = utcDay(context.now);
  return context.db.transact(studioId, async (tx) => {
    await store.takeTurn(tx, returnHash);
    const earlier = await store.byReturnHash(tx, studioId, returnHash);
    const number =
      earlier?.number ??
      (await insertNumbered(tx, studioId, {
        ...told,
        id: randomUUID(),
        signing: 'anonymous',
        classId: null,
        cardId: null,
        happenedOn,
        filedAt: new Date(`${happenedOn}T00:00:00Z`),
        returnHash,
      }));
    return { id: told.id, number, returnCode };
  });
}

/**
 * A picture for an anonymous note, in a transaction of its own. The id that the writer's device gave the note leads to it, and is not kept;
 * the picture is written anew from its pixels, so that neither place nor camera nor time comes with it.
 */
export async function addAnonymousPicture(context: OpenContext, input: { noteId: string; code: string; base64: string }): Promise<Record<string, never>> {
  const studioId = await studioBehind(context, input.code);
  const noteOf = async (tx: Tx): Promise<{ id: string }> => {
    const note = await store.byReturnHash(tx, studioId, returnHashOf(returnCodeOf(input.noteId)));
    if (!note) throw notFound('The note of this picture');
    await refuseOneTooMany(tx, studioId, note.id);
    return note;
  };
  // Asked before a picture is unfolded, which takes a while, and again when it is kept.
  await context.db.transact(studioId, noteOf);
  const picture = await readPicture(input.base64);
  return context.db.transact(studioId, async (tx) => {
    const note = await noteOf(tx);
    await insertPicture(tx, studioId, { ...picture, id: randomUUID(), noteId: note.id });
    return {};
  });
}
