import type { Tx } from '../../plugins/database/database.ts';

export type CheckedReading = {
  id: string;
  card_id: string;
  step_no: number;
  seat_id: string | null;
  account_id: string | null;
  seat_account_id: string | null;
};
export async function readingById(tx: Tx, studioId: string, id: string): Promise<CheckedReading | undefined> {
  const [row] = await tx.rows<CheckedReading>(
    `SELECT r.id, r.card_id, r.step_no, r.seat_id, r.account_id, s.account_id AS seat_account_id FROM reading r
     LEFT JOIN seat s ON s.studio_id = r.studio_id AND s.id = r.seat_id WHERE r.studio_id = $1::uuid AND r.id = $2::uuid`,
    [studioId, id],
  );
  return row;
}

export async function accountOfSeat(tx: Tx, studioId: string, seatId: string): Promise<string | null> {
  const [row] = await tx.rows<{ account_id: string | null }>('SELECT account_id FROM seat WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, seatId]);
  return row?.account_id ?? null;
}

export type NewCheck = {
  studioId: string;
  id: string;
  readingId: string;
  byName: string;
  seatId: string | null;
  accountId: string | null;
  entered: string;
  massMg: number;
  agrees: boolean;
  at: Date;
};
export async function insertCheck(tx: Tx, c: NewCheck): Promise<void> {
  await tx.rows(
    `INSERT INTO reading_check (studio_id, id, reading_id, by_name, seat_id, account_id, entered, mass_mg, agrees, at)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4, $5::uuid, $6::uuid, $7, $8::bigint, $9, $10::timestamptz)`,
    [c.studioId, c.id, c.readingId, c.byName, c.seatId, c.accountId, c.entered, c.massMg, c.agrees, c.at],
  );
}
