import type { GearState } from '@ashwater/contracts';
import type { Actor } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { Context, SeatContext, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { confirmFor, gearOf, holdRoomOf, requireThere } from './service.ts';
import * as store from './store.ts';

type Added = { id: string; name: string; kind: 'visitor' | 'student' };

/**
 * Puts somebody without a device at a station: a visitor to an open container, or a student who works from the printed card.
 * They count in the gate like everybody there, so it shuts until their gear is confirmed and signed off.
 */
export async function addPerson(context: Context<Tx, Actor>, classId: string, classStationId: string, input: Added): Promise<GearState> {
  const { tx, actor, studio, now } = context;
  await store.lockRoom(tx, classId, 'stop');
  if (actor.kind === 'seat') await requireThere(context as SeatContext);
  const room = await store.classById(tx, studio.id, classId);
  const stations = room ? await store.stationsOfClass(tx, studio.id, classId) : [];
  if (!room || !stations.some((each) => each.id === classStationId)) throw notFound('This station');
  if (room.status !== 'published') throw new DomainProblem('class-not-open', 'This class is not open.');
  const fresh = await store.insertSeat(tx, {
    studioId: studio.id,
    id: input.id,
    classId,
    classStationId,
    name: input.name,
    accountId: null,
    tokenHash: store.noDevice(input.id),
    kind: input.kind,
    at: now,
  });
  if (!fresh) throw new DomainProblem('already-exists', 'This person is there already.');
  await announce(context, { kind: 'seat-joined', classId, classStationId, subjectId: input.id });
  return gearOf(context, input.id);
}

/** The wearer confirms one item on a device that is not their own: the station's, or one that staff hold out. */
export async function confirmForPerson(context: Context<Tx, Actor>, seatId: string, input: { id: string; itemKey: string }): Promise<GearState> {
  const { tx, actor, studio } = context;
  const seat = await store.seatById(tx, studio.id, seatId);
  if (!seat || (actor.kind === 'seat' && seat.class_station_id !== actor.classStationId)) throw notFound('This person');
  if (!seat.no_device) throw inputRefused('/seatId', `${seat.name} confirms their own gear on their own device.`);
  if (actor.kind === 'seat') await requireThere(context as SeatContext);
  return confirmFor(context, seat.id, input);
}

/** Somebody left without signing out, or a visitor went: their gear holds nobody up any more. */
export async function signOutPerson(context: Context<Tx, Actor>, seatId: string): Promise<Record<string, never>> {
  const { tx, actor, studio, now } = context;
  await holdRoomOf(tx, studio.id, seatId);
  const seat = await store.seatById(tx, studio.id, seatId);
  if (!seat || (actor.kind === 'seat' && (seat.class_station_id !== actor.classStationId || !seat.no_device))) throw notFound('This person');
  if (seat.signed_out_at) return {};
  if (actor.kind === 'seat') await requireThere(context as SeatContext);
  await store.signSeatOut(tx, studio.id, seatId, now);
  await audit(context, 'signed a seat out', `seat:${seatId}`);
  await announce(context, { kind: 'seat-signed-out', classId: seat.class_id, classStationId: seat.class_station_id, subjectId: seatId });
  return {};
}

/** Moves a person to another station of the class. What was looked at for the old place says nothing about the new one. */
export async function moveSeat(context: StaffContext, seatId: string, input: { id: string; classStationId: string }): Promise<GearState> {
  const { tx, actor, studio, now } = context;
  await holdRoomOf(tx, studio.id, seatId);
  const seat = await store.seatById(tx, studio.id, seatId);
  if (!seat) throw notFound('This seat');
  const to = (await store.stationsOfClass(tx, studio.id, seat.class_id)).find((each) => each.id === input.classStationId);
  if (!to) throw notFound('This station');
  if (seat.signed_out_at) throw new DomainProblem('seat-signed-out', `${seat.name} has signed out.`);
  if (to.id === seat.class_station_id) return gearOf(context, seatId);
  const card = await store.currentCard(tx, studio.id, seat.class_station_id);
  if (card)
    await store.insertAct(tx, {
      studioId: studio.id,
      id: input.id,
      seatId,
      cardId: card.id,
      kind: 'lapsed',
      accountId: actor.id,
      reason: `moved to ${to.name}`,
      at: now,
    });
  await store.moveSeat(tx, studio.id, seatId, to.id);
  await audit(context, 'moved a seat', `seat:${seatId}`, { to: to.name });
  for (const classStationId of [seat.class_station_id, to.id])
    await announce(context, { kind: 'seat-moved', classId: seat.class_id, classStationId, subjectId: seatId });
  return gearOf(context, seatId);
}
