import type { ClassMessageOut } from '@ashwater/contracts';
import type { Actor } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import * as store from './store.ts';

export type Stop = { at: string; byName: string; reason: string };

/** The stop that freezes the class now, or null. */
export async function currentStop(tx: Tx, studioId: string, classId: string): Promise<Stop | null> {
  const last = await store.lastStop(tx, studioId, classId);
  return last?.kind === 'stopped' ? { at: last.at.toISOString(), byName: last.by_name, reason: last.reason } : null;
}

async function record(
  context: Context<Tx, Actor>,
  classId: string,
  kind: 'stopped' | 'cleared',
  input: { id: string; reason: string },
): Promise<Record<string, never>> {
  const { tx, actor, studio, now } = context;
  const seatId = actor.kind === 'seat' ? actor.id : null;
  const accountId = actor.kind === 'staff' ? actor.id : null;
  await store.insertStop(tx, { studioId: studio.id, id: input.id, classId, kind, byName: actor.name, seatId, accountId, reason: input.reason, at: now });
  await audit(context, kind === 'stopped' ? 'stopped the room' : 'cleared the room', `class:${classId}`);
  await announce(context, { kind: `room-${kind}`, classId });
  return {};
}

/** Anyone's call. Stopping a stopped room changes nothing and is no error: two people may shout at once. */
export async function stopRoom(context: Context<Tx, Actor>, classId: string, input: { id: string; reason: string }): Promise<Record<string, never>> {
  const { tx, actor, studio } = context;
  if (actor.kind === 'seat' && actor.classId !== classId) throw notFound('This class');
  await store.lockRoom(tx, classId, 'stop');
  if (!(await store.classById(tx, studio.id, classId))) throw notFound('This class');
  if (await currentStop(tx, studio.id, classId)) return {};
  return record(context, classId, 'stopped', input);
}

/** Only an instructor or the owner lets the class go on. */
export async function clearRoom(context: StaffContext, classId: string, input: { id: string; reason: string }): Promise<Record<string, never>> {
  await store.lockRoom(context.tx, classId, 'stop');
  if (!(await store.classById(context.tx, context.studio.id, classId))) throw notFound('This class');
  if (!(await currentStop(context.tx, context.studio.id, classId)))
    throw new DomainProblem('room-not-stopped', 'The room is not stopped; perhaps a colleague cleared it just now.');
  return record(context, classId, 'cleared', input);
}

const KEPT_IN_SIGHT = 3;
/** The newest messages to everybody in a class, newest first. */
export async function messagesTo(tx: Tx, studioId: string, classId: string): Promise<ClassMessageOut[]> {
  const rows = await store.messages(tx, studioId, classId, KEPT_IN_SIGHT);
  return rows.map(({ id, seq, text, at, by_name }) => ({ id, seq, text, at: at.toISOString(), byName: by_name }));
}

/** Tells every station something that needs no stop. */
export async function sendMessage(context: StaffContext, classId: string, input: { id: string; text: string }): Promise<{ id: string }> {
  const { tx, actor, studio, now } = context;
  const room = await store.classById(tx, studio.id, classId);
  if (!room) throw notFound('This class');
  if (room.status !== 'published') throw new DomainProblem('class-not-open', 'This class is not open: nobody would see it.');
  await store.insertMessage(tx, { studioId: studio.id, id: input.id, classId, text: input.text, at: now, by: actor.id });
  await announce(context, { kind: 'class-message', classId, subjectId: input.id });
  return { id: input.id };
}
