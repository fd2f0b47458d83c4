import type { GearItem, GearState, Me } from '@ashwater/contracts';
import type { Seat } from '../../actor.ts';
import { normalCode } from '../../ids.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { Context, OpenContext, SeatContext, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { meOf, newSeatToken, readStudio } from '../people/service.ts';
import { gearState, stationGate } from './gate.ts';
import type { SeatGear } from './gate.ts';
import * as store from './store.ts';

export { gearFor } from './items.ts';
export { stationGate } from './gate.ts';
export { currentStop, messagesTo } from './room-service.ts';
export { lockRoom } from './store.ts';

const unknownCode = () =>
  new DomainProblem('code-unknown', 'No class or station has this code. Check it on the card or ask your instructor.', [
    { pointer: '/code', detail: 'No class or station has this code.' },
  ]);

/** What a code leads to: one station, or all stations of a class. */
export async function joinTarget({ db }: OpenContext, typed: string) {
  const found = await store.byJoinCode(db.lookUp, normalCode(typed));
  if (!found) throw unknownCode();
  return db.transact(found.studio_id, async (tx) => {
    const row = await store.classById(tx, found.studio_id, found.class_id);
    const studio = await readStudio(tx, found.studio_id);
    if (!row || !studio) throw unknownCode();
    const stations = await store.stationsOfClass(tx, found.studio_id, found.class_id);
    return {
      classTitle: row.title,
      startsAt: row.starts_at.toISOString(),
      room: row.room,
      studioName: studio.name,
      timeZone: studio.timeZone,
      emergencyPhone: studio.emergencyPhone,
      stations: stations
        .filter((station) => found.class_station_id === null || station.id === found.class_station_id)
        .map((station) => ({ name: station.name, code: station.join_code })),
    };
  });
}

/** How long the same join may be sent again: a phone that lost the answer gets its seat, not a second one. */
const REJOIN_MS = 10 * 60_000;

/** Takes a seat at a station. The token is made here and stored only as a hash, so a repeat gets a fresh one for the same seat. */
export async function join(
  { db, now }: OpenContext,
  input: { id: string; code: string; name: string },
  accountId: string | null,
): Promise<{ me: Me; cookie: string }> {
  const found = await store.byJoinCode(db.lookUp, normalCode(input.code));
  if (!found?.class_station_id) throw unknownCode();
  const { studio_id: studioId, class_id: classId, class_station_id: classStationId } = found;
  return db.transact(studioId, async (tx) => {
    await store.lockRoom(tx, classId, 'stop');
    const studio = await readStudio(tx, studioId);
    const room = await store.classById(tx, studioId, classId);
    if (!studio || !room) throw unknownCode();
    if (room.status !== 'published')
      throw new DomainProblem('class-not-open', room.status === 'draft' ? 'This class is not published yet. Ask your instructor.' : 'This class is over.');
    const token = newSeatToken(studioId);
    const fresh = await store.insertSeat(tx, { studioId, id: input.id, classId, classStationId, name: input.name, accountId, tokenHash: token.hash, at: now });
    if (!fresh) {
      const earlier = await store.seatById(tx, studioId, input.id);
      const same =
        earlier?.name === input.name &&
        earlier.class_station_id === classStationId &&
        !earlier.signed_out_at &&
        now.getTime() - earlier.joined_at.getTime() < REJOIN_MS;
      if (!same) throw new DomainProblem('already-exists', 'This seat is taken. Open the station’s code again.');
      await store.replaceToken(tx, studioId, input.id, token.hash, accountId);
    }
    const actor: Seat = { kind: 'seat', studioId, id: input.id, name: input.name, classId, classStationId, signedOut: false };
    await announce({ tx, actor, studio, now }, { kind: 'seat-joined', classId, classStationId, subjectId: input.id });
    return { me: meOf({ actor, studio }), cookie: token.cookie };
  });
}

export type StationSeat = SeatGear & { id: string; kind: 'student' | 'visitor' | 'helper'; noDevice: boolean };
/** Everybody at a station (or at every station of the class) with the state of their gear for the card in force. */
export async function seatsWithGear(tx: Tx, studioId: string, classId: string, classStationId: string | null, now: Date): Promise<Map<string, StationSeat[]>> {
  const seats = await store.seatsOfClass(tx, studioId, classId, classStationId);
  const cards = await store.currentGear(tx, studioId, classId, classStationId);
  const acts = await store.gearActs(
    tx,
    studioId,
    seats.map((seat) => seat.id),
  );
  const byStation = new Map<string, StationSeat[]>();
  for (const seat of seats) {
    const card = cards.find((each) => each.class_station_id === seat.class_station_id);
    const own = acts.filter((each) => each.seatId === seat.id && each.cardId === card?.card_id).map((each) => each.act);
    const gear = gearState(
      own,
      (card?.gear ?? []).map((item) => item.key),
      now,
    );
    byStation.set(seat.class_station_id, [
      ...(byStation.get(seat.class_station_id) ?? []),
      { id: seat.id, name: seat.name, kind: seat.kind, noDevice: seat.no_device, signedOut: seat.signed_out_at !== null, gear },
    ]);
  }
  return byStation;
}

async function seatAndCard(tx: Tx, studioId: string, seatId: string): Promise<{ seat: store.SeatRow; card: { id: string; gear: GearItem[] } }> {
  const seat = await store.seatById(tx, studioId, seatId);
  if (!seat) throw notFound('This seat');
  const card = await store.currentCard(tx, studioId, seat.class_station_id);
  if (!card) throw new DomainProblem('class-not-open', 'This station has no weigh card yet.');
  return { seat, card };
}

async function stateOf(context: Context, seat: store.SeatRow): Promise<GearState> {
  const seats = await seatsWithGear(context.tx, context.studio.id, seat.class_id, seat.class_station_id, context.now);
  return seats.get(seat.class_station_id)!.find((each) => each.id === seat.id)!.gear;
}

/** The wearer confirms one item of their own gear. */
export async function confirmGear(context: SeatContext, input: { id: string; itemKey: string }): Promise<GearState> {
  await requireThere(context);
  return confirmFor(context, context.actor.id, input);
}

export async function requireThere({ tx, actor, studio }: SeatContext): Promise<store.SeatRow> {
  const seat = await store.seatById(tx, studio.id, actor.id);
  if (!seat || seat.signed_out_at) throw new DomainProblem('seat-signed-out', 'You signed out of this station. Join again with its code.');
  return seat;
}

/** One item of one person's gear, written down for whoever wears it. */
export async function confirmFor(context: Context, seatId: string, input: { id: string; itemKey: string }): Promise<GearState> {
  const { tx, studio, now } = context;
  const { seat, card } = await seatAndCard(tx, studio.id, seatId);
  if (seat.signed_out_at) throw new DomainProblem('seat-signed-out', `${seat.name} has signed out.`);
  if (!card.gear.some((item) => item.key === input.itemKey)) throw inputRefused('/itemKey', 'This item is not on the gear list of this card.');
  await store.insertAct(tx, { studioId: studio.id, id: input.id, seatId: seat.id, cardId: card.id, kind: 'confirmed', itemKey: input.itemKey, at: now });
  await announce(context, { kind: 'gear-confirmed', classId: seat.class_id, classStationId: seat.class_station_id, subjectId: seat.id });
  return stateOf(context, seat);
}

export async function gearOf(context: Context, seatId: string): Promise<GearState> {
  const { seat } = await seatAndCard(context.tx, context.studio.id, seatId);
  return stateOf(context, seat);
}

/** A second person looked and signs. Never the wearer; only when the wearer has confirmed every item. */
export async function countersign(context: StaffContext, seatId: string, input: { id: string }): Promise<GearState> {
  const { tx, actor, studio, now } = context;
  const { seat, card } = await seatAndCard(tx, studio.id, seatId);
  if (seat.account_id === actor.id)
    throw new DomainProblem('cannot-sign-own-gear', 'You took this seat yourself. Ask another member of staff to look and sign.');
  if (seat.signed_out_at) throw new DomainProblem('seat-signed-out', `${seat.name} has signed out.`);
  const before = await stateOf(context, seat);
  if (before.status === 'signed') return before;
  if (before.status !== 'waiting') {
    const missing = card.gear.filter((item) => !before.confirmed.includes(item.key)).map((item) => item.name);
    throw new DomainProblem('gear-not-confirmed', `${seat.name} has not confirmed: ${missing.join(', ')}.`);
  }
  const validUntil = new Date(now.getTime() + studio.gearMinutes * 60_000);
  await store.insertAct(tx, { studioId: studio.id, id: input.id, seatId, cardId: card.id, kind: 'countersigned', accountId: actor.id, at: now, validUntil });
  await audit(context, 'countersigned gear', `seat:${seatId}`);
  await announce(context, { kind: 'gear-countersigned', classId: seat.class_id, classStationId: seat.class_station_id, subjectId: seatId });
  return stateOf(context, seat);
}

/** For what may shut a caustic step to a seat's station: it waits for acts that are being judged, and later ones see it. */
export async function holdRoomOf(tx: Tx, studioId: string, seatId: string): Promise<void> {
  const classId = await store.classOfSeat(tx, studioId, seatId);
  if (classId) await store.lockRoom(tx, classId, 'stop');
}

/** Ends a sign-off before its time: a break, a torn glove, leaving the room. */
export async function lapseGear(context: StaffContext, seatId: string, input: { id: string; reason: string }): Promise<GearState> {
  const { tx, actor, studio, now } = context;
  await holdRoomOf(tx, studio.id, seatId);
  const { seat, card } = await seatAndCard(tx, studio.id, seatId);
  const reason = input.reason || 'ended by staff';
  await store.insertAct(tx, { studioId: studio.id, id: input.id, seatId, cardId: card.id, kind: 'lapsed', accountId: actor.id, reason, at: now });
  await announce(context, { kind: 'gear-lapsed', classId: seat.class_id, classStationId: seat.class_station_id, subjectId: seatId });
  return stateOf(context, seat);
}

/** The wearer takes a break or leaves the bench: everything is confirmed and signed off again afterwards. */
export async function pauseGear(context: SeatContext, input: { id: string; reason: string }): Promise<GearState> {
  const { tx, actor, studio, now } = context;
  await store.lockRoom(tx, actor.classId, 'stop');
  const seat = await requireThere(context);
  const { card } = await seatAndCard(tx, studio.id, actor.id);
  const reason = input.reason || 'took a break';
  await store.insertAct(tx, { studioId: studio.id, id: input.id, seatId: actor.id, cardId: card.id, kind: 'lapsed', reason, at: now });
  await announce(context, { kind: 'gear-lapsed', classId: seat.class_id, classStationId: seat.class_station_id, subjectId: seat.id });
  return stateOf(context, seat);
}

export async function signSeatOut(context: SeatContext): Promise<Record<string, never>> {
  const { tx, actor, studio, now } = context;
  await store.lockRoom(tx, actor.classId, 'stop');
  await store.signSeatOut(tx, studio.id, actor.id, now);
  await announce(context, { kind: 'seat-signed-out', classId: actor.classId, classStationId: actor.classStationId, subjectId: actor.id });
  return {};
}

export async function gateOf(tx: Tx, seat: Pick<Seat, 'studioId' | 'classId' | 'classStationId'>, now: Date) {
  const seats = (await seatsWithGear(tx, seat.studioId, seat.classId, seat.classStationId, now)).get(seat.classStationId) ?? [];
  return { seats, gate: stationGate(seats) };
}

/**
 * The gate as it is on record for a card, for what is entered from paper: somebody was signed off, and of those who have not
 * left everybody was, at whatever time.
 */
export async function gateOnRecord(tx: Tx, studioId: string, classStationId: string, cardId: string): Promise<{ open: boolean; waitingFor: string[] }> {
  const seats = await store.signedOnCard(tx, studioId, classStationId, cardId);
  const waitingFor = seats.filter((seat) => !seat.signed && !seat.left).map((seat) => seat.name);
  return { open: waitingFor.length === 0 && seats.some((seat) => seat.signed), waitingFor };
}
