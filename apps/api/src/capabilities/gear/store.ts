import type { GearItem } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import type { GearAct } from './gate.ts';

export type ClassRow = { id: string; title: string; starts_at: Date; room: string; status: string; join_code: string };
export async function classById(tx: Tx, studioId: string, id: string): Promise<ClassRow | undefined> {
  const [row] = await tx.rows<ClassRow>('SELECT id, title, starts_at, room, status, join_code FROM class WHERE studio_id = $1::uuid AND id = $2::uuid', [
    studioId,
    id,
  ]);
  return row;
}

export type Found = { studio_id: string; class_id: string; class_station_id: string | null };
export async function byJoinCode(lookUp: Tx, code: string): Promise<Found | undefined> {
  const [row] = await lookUp.rows<Found>('SELECT * FROM studio_of_join_code($1)', [code]);
  return row;
}

export async function stationsOfClass(tx: Tx, studioId: string, classId: string): Promise<{ id: string; name: string; join_code: string }[]> {
  return tx.rows('SELECT id, name, join_code FROM class_station WHERE studio_id = $1::uuid AND class_id = $2::uuid ORDER BY position', [studioId, classId]);
}

export type SeatRow = {
  id: string;
  name: string;
  class_id: string;
  class_station_id: string;
  account_id: string | null;
  joined_at: Date;
  signed_out_at: Date | null;
  kind: 'student' | 'visitor' | 'helper';
  no_device: boolean;
};
const SEAT = `id, name, class_id, class_station_id, account_id, joined_at, signed_out_at, kind, token_hash LIKE 'no device %' AS no_device`;
/** Stands where a token's hash would: no hash has this form, so that no cookie ever opens the seat. */
export const noDevice = (seatId: string): string => `no device ${seatId}`;
export async function seatById(tx: Tx, studioId: string, id: string): Promise<SeatRow | undefined> {
  const [row] = await tx.rows<SeatRow>(`SELECT ${SEAT} FROM seat WHERE studio_id = $1::uuid AND id = $2::uuid FOR UPDATE`, [studioId, id]);
  return row;
}
export async function seatsOfClass(tx: Tx, studioId: string, classId: string, classStationId: string | null): Promise<SeatRow[]> {
  return tx.rows<SeatRow>(
    `SELECT ${SEAT} FROM seat WHERE studio_id = $1::uuid AND class_id = $2::uuid AND ($3::uuid IS NULL OR class_station_id = $3::uuid) ORDER BY joined_at, id`,
    [studioId, classId, classStationId],
  );
}

/** Without a lock: for what must be locked before the seat. A seat never changes its class. */
export async function classOfSeat(tx: Tx, studioId: string, id: string): Promise<string | undefined> {
  const [row] = await tx.rows<{ class_id: string }>('SELECT class_id FROM seat WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, id]);
  return row?.class_id;
}

export type NewSeat = {
  studioId: string;
  id: string;
  classId: string;
  classStationId: string;
  name: string;
  accountId: string | null;
  tokenHash: string;
  kind?: 'student' | 'visitor';
  at: Date;
};
/** @returns false when there is a seat with this id already; the same join sent twice at once waits here for the first */
export async function insertSeat(tx: Tx, seat: NewSeat): Promise<boolean> {
  const made = await tx.rows(
    `INSERT INTO seat (studio_id, id, class_id, class_station_id, name, account_id, token_hash, joined_at, kind)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5, $6::uuid, $7, $8::timestamptz, $9)
     ON CONFLICT (studio_id, id) DO NOTHING RETURNING id`,
    [seat.studioId, seat.id, seat.classId, seat.classStationId, seat.name, seat.accountId, seat.tokenHash, seat.at, seat.kind ?? 'student'],
  );
  return made.length === 1;
}
/** The account counts from when it is known: a first join may have been sent before its person signed in. It is never taken away again. */
export async function replaceToken(tx: Tx, studioId: string, seatId: string, tokenHash: string, accountId: string | null): Promise<void> {
  await tx.rows('UPDATE seat SET token_hash = $3, account_id = coalesce(account_id, $4::uuid) WHERE studio_id = $1::uuid AND id = $2::uuid', [
    studioId,
    seatId,
    tokenHash,
    accountId,
  ]);
}
export async function signSeatOut(tx: Tx, studioId: string, seatId: string, at: Date): Promise<void> {
  await tx.rows('UPDATE seat SET signed_out_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND signed_out_at IS NULL', [
    studioId,
    seatId,
    at,
  ]);
}

export async function moveSeat(tx: Tx, studioId: string, seatId: string, classStationId: string): Promise<void> {
  await tx.rows('UPDATE seat SET class_station_id = $3::uuid WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, seatId, classStationId]);
}

/** The card in force at a station and what gear it asks for. */
export async function currentCard(tx: Tx, studioId: string, classStationId: string): Promise<{ id: string; gear: GearItem[] } | undefined> {
  const [row] = await tx.rows<{ id: string; gear: GearItem[] }>(
    `SELECT id, content->'gear' AS gear FROM weigh_card WHERE studio_id = $1::uuid AND class_station_id = $2::uuid ORDER BY issue DESC LIMIT 1`,
    [studioId, classStationId],
  );
  return row;
}
export async function currentGear(
  tx: Tx,
  studioId: string,
  classId: string,
  classStationId: string | null,
): Promise<{ card_id: string; class_station_id: string; gear: GearItem[] }[]> {
  return tx.rows(
    `SELECT DISTINCT ON (class_station_id) id AS card_id, class_station_id, content->'gear' AS gear FROM weigh_card
     WHERE studio_id = $1::uuid AND class_id = $2::uuid AND ($3::uuid IS NULL OR class_station_id = $3::uuid) ORDER BY class_station_id, issue DESC`,
    [studioId, classId, classStationId],
  );
}

type ActRow = {
  seat_id: string;
  card_id: string;
  kind: GearAct['kind'];
  item_key: string | null;
  by_name: string | null;
  reason: string | null;
  at: Date;
  valid_until: Date | null;
};
export type SeatAct = { seatId: string; cardId: string; act: GearAct };
export async function gearActs(tx: Tx, studioId: string, seatIds: string[]): Promise<SeatAct[]> {
  const rows = await tx.rows<ActRow>(
    `SELECT g.seat_id, g.card_id, g.kind, g.item_key, a.name AS by_name, g.reason, g.at, g.valid_until FROM gear_act g
     LEFT JOIN account a ON a.studio_id = g.studio_id AND a.id = g.account_id
     WHERE g.studio_id = $1::uuid AND g.seat_id = ANY($2::uuid[]) ORDER BY g.seq`,
    [studioId, seatIds],
  );
  return rows.map((row) => ({ seatId: row.seat_id, cardId: row.card_id, act: actOf(row) }));
}
function actOf(row: ActRow): GearAct {
  if (row.kind === 'confirmed') return { kind: 'confirmed', itemKey: row.item_key!, at: row.at };
  if (row.kind === 'lapsed') return { kind: 'lapsed', reason: row.reason!, at: row.at };
  return { kind: 'countersigned', byName: row.by_name ?? 'a member of staff', at: row.at, validUntil: row.valid_until! };
}

/** Everybody who is or was at a station, and whether they were ever signed off for the card. */
export async function signedOnCard(
  tx: Tx,
  studioId: string,
  classStationId: string,
  cardId: string,
): Promise<{ name: string; left: boolean; signed: boolean }[]> {
  return tx.rows(
    `SELECT s.name, s.signed_out_at IS NOT NULL AS left, EXISTS (SELECT FROM gear_act g WHERE g.studio_id = s.studio_id AND g.seat_id = s.id
       AND g.card_id = $3::uuid AND g.kind = 'countersigned') AS signed
     FROM seat s WHERE s.studio_id = $1::uuid AND s.class_station_id = $2::uuid ORDER BY s.joined_at, s.id`,
    [studioId, classStationId, cardId],
  );
}

export type NewAct = {
  studioId: string;
  id: string;
  seatId: string;
  cardId: string;
  kind: GearAct['kind'];
  itemKey?: string;
  accountId?: string;
  reason?: string;
  at: Date;
  validUntil?: Date;
};
export async function insertAct(tx: Tx, act: NewAct): Promise<void> {
  await tx.rows(
    `INSERT INTO gear_act (studio_id, id, seat_id, card_id, kind, item_key, account_id, reason, at, valid_until)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::uuid, $5, $6, $7::uuid, $8, $9::timestamptz, $10::timestamptz)`,
    [act.studioId, act.id, act.seatId, act.cardId, act.kind, act.itemKey ?? null, act.accountId ?? null, act.reason ?? null, act.at, act.validUntil ?? null],
  );
}

export type StopRow = { kind: 'stopped' | 'cleared'; by_name: string; reason: string; at: Date };
/** The newest stop or clearing of a class. */
export async function lastStop(tx: Tx, studioId: string, classId: string): Promise<StopRow | undefined> {
  const [row] = await tx.rows<StopRow>(
    'SELECT kind, by_name, reason, at FROM class_stop WHERE studio_id = $1::uuid AND class_id = $2::uuid ORDER BY seq DESC LIMIT 1',
    [studioId, classId],
  );
  return row;
}
export type NewStop = {
  studioId: string;
  id: string;
  classId: string;
  kind: 'stopped' | 'cleared';
  byName: string;
  seatId: string | null;
  accountId: string | null;
  reason: string;
  at: Date;
};
export async function insertStop(tx: Tx, stop: NewStop): Promise<void> {
  await tx.rows(
    `INSERT INTO class_stop (studio_id, id, class_id, kind, by_name, seat_id, account_id, reason, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5, $6::uuid, $7::uuid, $8, $9::timestamptz)`,
    [stop.studioId, stop.id, stop.classId, stop.kind, stop.byName, stop.seatId, stop.accountId, stop.reason, stop.at],
  );
}

export type MessageRow = { id: string; seq: number; text: string; at: Date; by_name: string };
/** The newest messages to a class, newest first. */
export async function messages(tx: Tx, studioId: string, classId: string, limit: number): Promise<MessageRow[]> {
  return tx.rows<MessageRow>(
    `SELECT m.id, m.seq::float8 AS seq, m.text, m.at, a.name AS by_name FROM class_message m
     JOIN account a ON a.studio_id = m.studio_id AND a.id = m.by WHERE m.studio_id = $1::uuid AND m.class_id = $2::uuid ORDER BY m.seq DESC LIMIT $3`,
    [studioId, classId, limit],
  );
}
export async function insertMessage(tx: Tx, m: { studioId: string; id: string; classId: string; text: string; at: Date; by: string }): Promise<void> {
  await tx.rows('INSERT INTO class_message (studio_id, id, class_id, text, at, by) VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::timestamptz, $6::uuid)', [
    m.studioId,
    m.id,
    m.classId,
    m.text,
    m.at,
    m.by,
  ]);
}

/**
 * Held shared by every act at a station and exclusively by whatever may shut a step to it: a stop, the end of the class, a new card,
 * a lapse, somebody who comes, leaves or moves. An act either comes before that or sees it. Take it before any row: an act that holds
 * it goes on to rows of its seat.
 * An advisory lock, because it queues: of a row's locks a shared one goes past a waiting exclusive one, and a busy class would keep its stop waiting.
 */
export async function lockRoom(tx: Tx, classId: string, mode: 'act' | 'stop'): Promise<void> {
  // As text: Prisma cannot read a void.
  await tx.rows(`SELECT pg_advisory_xact_lock${mode === 'stop' ? '' : '_shared'}(hashtextextended($1, 11))::text`, [classId]);
}
