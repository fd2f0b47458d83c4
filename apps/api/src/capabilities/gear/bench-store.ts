import type { Tx } from '../../plugins/database/database.ts';

export async function stationName(tx: Tx, studioId: string, stationId: string): Promise<string | undefined> {
  const [row] = await tx.rows<{ name: string }>('SELECT name FROM station WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, stationId]);
  return row?.name;
}

export type NewDevice = { studioId: string; id: string; stationId: string; tokenHash: string; by: string; at: Date };
export async function insertDevice(tx: Tx, d: NewDevice): Promise<void> {
  await tx.rows(
    `INSERT INTO bench_device (studio_id, id, station_id, token_hash, bound_at, bound_by)
     VALUES ($1::uuid, $2::uuid, $3::uuid, decode($4, 'hex'), $5::timestamptz, $6::uuid)`,
    [d.studioId, d.id, d.stationId, d.tokenHash, d.at, d.by],
  );
}

/** @returns how many devices were bound */
export async function releaseDevices(tx: Tx, studioId: string, stationId: string, at: Date): Promise<number> {
  const rows = await tx.rows(
    'UPDATE bench_device SET released_at = $3::timestamptz WHERE studio_id = $1::uuid AND station_id = $2::uuid AND released_at IS NULL RETURNING id',
    [studioId, stationId, at],
  );
  return rows.length;
}

export async function boundStation(tx: Tx, studioId: string, tokenHash: string): Promise<{ id: string; name: string } | undefined> {
  const [row] = await tx.rows<{ id: string; name: string }>(
    `SELECT s.id, s.name FROM bench_device d JOIN station s ON s.studio_id = d.studio_id AND s.id = d.station_id
     WHERE d.studio_id = $1::uuid AND d.token_hash = decode($2, 'hex') AND d.released_at IS NULL`,
    [studioId, tokenHash],
  );
  return row;
}

export type ClassToday = { title: string; starts_at: Date; room: string; join_code: string };
/** The published class at a station on this day of the studio's zone; of two, the one that starts nearest to now. */
export async function classToday(tx: Tx, studioId: string, stationId: string, zone: string, now: Date): Promise<ClassToday | undefined> {
  const [row] = await tx.rows<ClassToday>(
    `SELECT c.title, c.starts_at, c.room, cs.join_code FROM class_station cs JOIN class c ON c.studio_id = cs.studio_id AND c.id = cs.class_id
     WHERE cs.studio_id = $1::uuid AND cs.station_id = $2::uuid AND c.status = 'published'
       AND (c.starts_at AT TIME ZONE $3)::date = ($4::timestamptz AT TIME ZONE $3)::date
     ORDER BY abs(extract(epoch FROM c.starts_at - $4::timestamptz)), c.id LIMIT 1`,
    [studioId, stationId, zone, now],
  );
  return row;
}
