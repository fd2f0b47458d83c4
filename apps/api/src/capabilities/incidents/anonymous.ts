import { randomUUID } from 'node:crypto';
import type { FileAnonymousNote, NoteFiled } from '@ashwater/contracts';
import type { z } from 'zod';
import { normalCode } from '../../ids.ts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { OpenContext } from '../../request-context.ts';
import { insertNumbered } from './numbering.ts';
import { returnCodeOf, returnHashOf } from './return-code.ts';
import * as store from './store.ts';

const dayOf = (instant: Date): string => instant.toISOString().slice(0, 10);

async function studioBehind({ db }: OpenContext, typedCode: string): Promise<string> {
  const studioId = await store.studioOfJoinCode(db.lookUp, normalCode(typedCode));
  if (studioId) return studioId;
  const detail = 'No class or station has this code. It is on the weigh card and on the board.';
  throw new DomainProblem('code-unknown', detail, [{ pointer: '/code', detail }]);
}

/**
 * Files a note without its writer. One row is written and nothing else: no audit line, no event, no counter, no key.
 * The class stays out of it too (the code tells the studio only), the time is the UTC day, and the stored id is random,
 * because the sender's id carries its millisecond. The same note sent again gets the same answer and writes nothing.
 */
export async function fileAnonymousNote(context: OpenContext, { code, ...told }: FileAnonymousNote): Promise<z.infer<typeof NoteFiled>> {
  const studioId = await studioBehind(context, code);
  const returnCode = returnCodeOf(told.id);
  const returnHash = returnHashOf(returnCode);
  const happenedOn = dayOf(context.now);
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
        happenedOn,
        filedAt: new Date(`${happenedOn}T00:00:00Z`),
        byName: null,
        seatId: null,
        accountId: null,
        returnHash,
      }));
    return { id: told.id, number, returnCode };
  });
}

/** What became of an anonymous note, for whoever holds its return code. Names nobody. */
export async function noteStatus(context: OpenContext, typedReturnCode: string, typedCode: string) {
  const studioId = await studioBehind(context, typedCode);
  return context.db.transact(studioId, async (tx) => {
    const note = await store.byReturnHash(tx, studioId, returnHashOf(normalCode(typedReturnCode)));
    if (!note) throw notFound('A note with this return code');
    const reviews = await store.reviews(tx, studioId, note.id);
    return { number: note.number, reviewed: reviews.length > 0, outcomes: reviews.map(({ outcome, learned, change }) => ({ outcome, learned, change })) };
  });
}
