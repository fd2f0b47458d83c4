import type { Role } from '@ashwater/contracts';
import type { Studio } from '../../actor.ts';
import type { OrmTx, Tx } from '../../plugins/database/database.ts';

type StudioRow = {
  id: string;
  name: string;
  time_zone: string;
  emergency_phone: string;
  is_demo: boolean;
  gear_minutes: number;
  jar_days: number;
};

export async function studio(tx: Tx, studioId: string): Promise<Studio | undefined> {
  const [row] = await tx.rows<StudioRow>('SELECT id, name, time_zone, emergency_phone, is_demo, gear_minutes, jar_days FROM studio WHERE id = $1::uuid', [
    studioId,
  ]);
  return (
    row && {
      id: row.id,
      name: row.name,
      timeZone: row.time_zone,
      emergencyPhone: row.emergency_phone,
      isDemo: row.is_demo,
      gearMinutes: row.gear_minutes,
      jarDays: row.jar_days,
    }
  );
}

export type NewStudio = { id: string; name: string; shortName: string; timeZone: string; emergencyPhone: string; isDemo: boolean; at: Date };
export async function insertStudio(tx: Tx, s: NewStudio): Promise<void> {
  await tx.rows(
    `INSERT INTO studio (id, name, short_name, time_zone, emergency_phone, is_demo, created_at)
     VALUES ($1::uuid, $2, $3, $4, $5, $6, $7)`,
    [s.id, s.name, s.shortName, s.timeZone, s.emergencyPhone, s.isDemo, s.at],
  );
}

export type NewAccount = { studioId: string; id: string; email: string; name: string; role: Role; passwordHash: string; at: Date };
export async function insertAccount(tx: Tx, a: NewAccount): Promise<void> {
  await tx.rows(
    `INSERT INTO account (studio_id, id, email, name, role, password_hash, created_at)
     VALUES ($1::uuid, $2::uuid, $3, $4, $5, $6, $7)`,
    [a.studioId, a.id, a.email, a.name, a.role, a.passwordHash, a.at],
  );
}

export type Candidate = { studio_id: string; account_id: string; password_hash: string };
export const signInCandidates = (lookUp: Tx, email: string, shortName: string | null): Promise<Candidate[]> =>
  lookUp.rows<Candidate>('SELECT * FROM sign_in_candidates($1, $2)', [email, shortName]);

export async function anyStudio(lookUp: Tx): Promise<boolean> {
  const [row] = await lookUp.rows<{ any: boolean }>('SELECT any_studio() AS any');
  return row?.any ?? false;
}

/** Held until this transaction ends, so that first-run set-ups come one after the other. */
export async function takeSetUpTurn(tx: Tx): Promise<void> {
  await tx.rows(`SELECT pg_advisory_xact_lock(hashtextextended('first-run set-up', 3))`);
}

export type SeatRow = { id: string; name: string; class_id: string; class_station_id: string; token_hash: string; signed_out_at: Date | null };
export async function seatByTokenHash(tx: Tx, studioId: string, hash: string): Promise<SeatRow | undefined> {
  const [row] = await tx.rows<SeatRow>(
    `SELECT id, name, class_id, class_station_id, token_hash, signed_out_at FROM seat
     WHERE studio_id = $1::uuid AND token_hash = $2`,
    [studioId, hash],
  );
  return row;
}

export async function people(tx: OrmTx, studioId: string) {
  const rows = await tx.orm.account.findMany({ where: { studio_id: studioId }, orderBy: [{ name: 'asc' }] });
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    email: row.email,
    role: row.role as Role,
    createdAt: row.created_at.toISOString(),
    disabled: row.disabled_at !== null,
  }));
}
