import { createHash } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { Actor, Seat, Staff } from '../actor.ts';
import { actorKey } from '../actor.ts';
import type { Context } from '../request-context.ts';
import { DomainProblem } from '../problems/domain-problem.ts';
import type { OrmTx, Tx } from './database/database.ts';
import { claimKey, keepResponse } from './database/idempotency.ts';

/*
 * The four doors from a route to its service: read or write, by plain SQL or with Prisma.
 * Each opens the request's one transaction inside the actor's studio and hands the service its context.
 * A write also takes the Idempotency-Key: key, effect and stored answer are committed together or not at all.
 */
const KEY_FORM = /^[\x21-\x7e]{8,100}$/;

function contextOf<T extends Tx, A extends Actor>(request: FastifyRequest, tx: T): Context<T, A> {
  if (!request.who) throw new Error('a route without an actor asked for a context');
  return { tx, actor: request.who.actor as A, studio: request.who.studio, now: request.server.clock() };
}
const studioOf = (request: FastifyRequest): string => {
  if (!request.who) throw new Error('a route without an actor asked for a studio');
  return request.who.studio.id;
};

export const read = <R, A extends Actor = Staff>(request: FastifyRequest, work: (context: Context<Tx, A>) => Promise<R>): Promise<R> =>
  request.server.db.transact(studioOf(request), (tx) => work(contextOf<Tx, A>(request, tx)));

export const readOrm = <R, A extends Actor = Staff>(request: FastifyRequest, work: (context: Context<OrmTx, A>) => Promise<R>): Promise<R> =>
  request.server.db.transactOrm(studioOf(request), (tx) => work(contextOf<OrmTx, A>(request, tx)));

export const write = <R, A extends Actor = Staff>(request: FastifyRequest, work: (context: Context<Tx, A>) => Promise<R>): Promise<R> =>
  request.server.db.transact(studioOf(request), (tx) => once(request, contextOf<Tx, A>(request, tx), work));

export const writeOrm = <R, A extends Actor = Staff>(request: FastifyRequest, work: (context: Context<OrmTx, A>) => Promise<R>): Promise<R> =>
  request.server.db.transactOrm(studioOf(request), (tx) => once(request, contextOf<OrmTx, A>(request, tx), work));

export const writeAsSeat = <R>(request: FastifyRequest, work: (context: Context<Tx, Seat>) => Promise<R>): Promise<R> => write<R, Seat>(request, work);

/** Without passwords: this hash is quick, and a copy of the database would let them be guessed past argon2. */
const hashOf = (input: unknown): string =>
  createHash('sha256')
    .update(JSON.stringify(input, (name, value: unknown) => (name === 'password' ? undefined : value)))
    .digest('hex');

async function once<R, T extends Tx, A extends Actor>(
  request: FastifyRequest,
  context: Context<T, A>,
  work: (context: Context<T, A>) => Promise<R>,
): Promise<R> {
  const key = request.headers['idempotency-key'];
  if (typeof key !== 'string' || !KEY_FORM.test(key))
    throw new DomainProblem('request-malformed', 'A write needs the header Idempotency-Key: one made before sending, and sent again on a retry.');
  const entry = {
    studioId: context.studio.id,
    actor: actorKey(context.actor),
    key,
    route: `${request.method} ${request.routeOptions.url ?? ''}`,
    inputHash: hashOf([request.method, request.url, request.body ?? null]),
    at: context.now,
  };
  const earlier = await claimKey(context.tx, entry);
  if (earlier) {
    if (earlier.inputHash !== entry.inputHash)
      throw new DomainProblem('idempotency-mismatch', 'This Idempotency-Key was used for another request. Nothing was done; use a new key.');
    return earlier.response as R;
  }
  const response = await work(context);
  await keepResponse(context.tx, entry, response);
  return response;
}
