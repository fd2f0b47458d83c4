import type { OrmTx, Tx } from '../../plugins/database/database.ts';
import type { SetUp } from './set-up.ts';
import { setUpColumns } from './station-store.ts';

export type StationInput = SetUp & {
  id: string;
  stationId: string;
  name: string;
  position: number;
  mouldName: string;
  recipeVersionId: string | null;
  joinCode: string;
};
export type ClassInput = {
  id: string;
  title: string;
  startsAt: Date;
  room: string;
  recipeVersionId: string;
  naohLotId: string | null;
  kohLotId: string | null;
  sparePercent: number;
  stations: StationInput[];
};

export async function list({ orm }: OrmTx, studioId: string) {
  return orm.studio_class.findMany({
    where: { studio_id: studioId },
    orderBy: { starts_at: 'desc' },
    take: 200,
    include: {
      version: { select: { title: true, number: true, recipe_id: true } },
      stations: { select: { recipe_version_id: true } },
      _count: { select: { stations: true } },
    },
  });
}
export type ClassRow = NonNullable<Awaited<ReturnType<typeof byId>>>;
export async function byId({ orm }: OrmTx, studioId: string, id: string) {
  return orm.studio_class.findUnique({
    where: { studio_id_id: { studio_id: studioId, id } },
    include: {
      version: { select: { title: true, number: true, recipe_id: true } },
      stations: { orderBy: { position: 'asc' } },
      _count: { select: { stations: true } },
    },
  });
}

const columns = (input: ClassInput) => ({
  title: input.title,
  starts_at: input.startsAt,
  room: input.room,
  recipe_version_id: input.recipeVersionId,
  naoh_lot_id: input.naohLotId,
  koh_lot_id: input.kohLotId,
  spare_percent: input.sparePercent,
});
export async function insert(tx: OrmTx, studioId: string, input: ClassInput & { joinCode: string; at: Date; by: string }): Promise<void> {
  await tx.orm.studio_class.create({
    data: { studio_id: studioId, id: input.id, status: 'draft', join_code: input.joinCode, created_at: input.at, created_by: input.by, ...columns(input) },
  });
  await insertStations(tx, studioId, input);
}
/** A draft's stations are set-up, not history: nothing has happened at them yet, so they are simply laid anew. */
export async function replace(tx: OrmTx, studioId: string, input: ClassInput): Promise<void> {
  await tx.orm.studio_class.update({ where: { studio_id_id: { studio_id: studioId, id: input.id } }, data: columns(input) });
  const kept = input.stations.map((station) => station.id);
  await tx.rows(
    `DELETE FROM class_station s USING class c WHERE s.studio_id = $1::uuid AND s.class_id = $2::uuid AND c.studio_id = s.studio_id AND c.id = s.class_id AND c.status = 'draft' AND NOT (s.id = ANY($3::uuid[]))`,
    [studioId, input.id, kept],
  );
  const there = await tx.orm.class_station.findMany({ where: { studio_id: studioId, class_id: input.id }, select: { id: true } });
  const known = new Set(there.map((row) => row.id));
  for (const station of input.stations.filter((each) => known.has(each.id))) {
    const { joinCode: _kept, ...set } = station;
    await tx.orm.class_station.update({ where: { studio_id_id: { studio_id: studioId, id: station.id } }, data: stationColumns(set) });
  }
  await insertStations(tx, studioId, { ...input, stations: input.stations.filter((each) => !known.has(each.id)) });
}
const stationColumns = (s: Omit<StationInput, 'joinCode'>) => ({
  station_id: s.stationId,
  name: s.name,
  position: s.position,
  recipe_version_id: s.recipeVersionId,
  ...setUpColumns(s),
});
async function insertStations({ orm }: OrmTx, studioId: string, { id, stations }: ClassInput): Promise<void> {
  await orm.class_station.createMany({
    data: stations.map((s) => ({ studio_id: studioId, id: s.id, class_id: id, join_code: s.joinCode, ...stationColumns(s) })),
  });
}

/** Keeps a draft from being published until this transaction ends. @returns false when the class is no draft any more */
export async function holdDraft(tx: Tx, studioId: string, id: string): Promise<boolean> {
  return (await tx.rows(`SELECT id FROM class WHERE studio_id = $1::uuid AND id = $2::uuid AND status = 'draft' FOR UPDATE`, [studioId, id])).length === 1;
}
export async function markPublished(tx: Tx, studioId: string, id: string, at: Date): Promise<boolean> {
  return (
    (
      await tx.rows(
        `UPDATE class SET status = 'published', published_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND status = 'draft' RETURNING id`,
        [studioId, id, at],
      )
    ).length === 1
  );
}
export async function markClosed(tx: Tx, studioId: string, id: string, at: Date): Promise<boolean> {
  return (
    (
      await tx.rows(
        `UPDATE class SET status = 'closed', closed_at = $3::timestamptz WHERE studio_id = $1::uuid AND id = $2::uuid AND status = 'published' RETURNING id`,
        [studioId, id, at],
      )
    ).length === 1
  );
}

/** Keeps a published class as it is until this transaction ends. @returns false when it is not open */
export async function holdPublished(tx: Tx, studioId: string, id: string): Promise<boolean> {
  return (await tx.rows(`SELECT id FROM class WHERE studio_id = $1::uuid AND id = $2::uuid AND status = 'published' FOR UPDATE`, [studioId, id])).length === 1;
}
/** Set-up, recipe and lots of a published class as its new cards have them; names, places and codes stay. */
export async function amend(
  { orm }: OrmTx,
  studioId: string,
  id: string,
  change: {
    naohLotId: string | null;
    kohLotId: string | null;
    stations: (SetUp & { id: string; mouldName: string; recipeVersionId: string | null })[];
  },
): Promise<void> {
  await orm.studio_class.update({
    where: { studio_id_id: { studio_id: studioId, id } },
    data: { naoh_lot_id: change.naohLotId, koh_lot_id: change.kohLotId },
  });
  for (const station of change.stations)
    await orm.class_station.update({
      where: { studio_id_id: { studio_id: studioId, id: station.id } },
      data: { recipe_version_id: station.recipeVersionId, ...setUpColumns(station) },
    });
}
/** Takes effect on a draft or a published class only. @returns false when it is closed or cancelled */
export async function markCancelled(tx: Tx, studioId: string, id: string, reason: string): Promise<boolean> {
  const set = `UPDATE class SET status = 'cancelled', cancelled_reason = $3 WHERE studio_id = $1::uuid AND id = $2::uuid AND status IN ('draft', 'published') RETURNING id`;
  return (await tx.rows(set, [studioId, id, reason])).length === 1;
}
export async function move(tx: Tx, studioId: string, id: string, to: { startsAt: Date; room: string }): Promise<boolean> {
  const set = `UPDATE class SET starts_at = $3::timestamptz, room = $4 WHERE studio_id = $1::uuid AND id = $2::uuid AND status IN ('draft', 'published') RETURNING id`;
  return (await tx.rows(set, [studioId, id, to.startsAt, to.room])).length === 1;
}

/** For the views of the floor, which are hot and need no Prisma. */
export type Frame = { id: string; title: string; starts_at: Date; room: string; status: string; join_code: string };
export async function frame(tx: Tx, studioId: string, id: string): Promise<Frame | undefined> {
  return (
    await tx.rows<Frame>('SELECT id, title, starts_at, room, status, join_code FROM class WHERE studio_id = $1::uuid AND id = $2::uuid', [studioId, id])
  )[0];
}
export async function stationFrames(tx: Tx, studioId: string, classId: string): Promise<{ id: string; name: string; join_code: string }[]> {
  return tx.rows('SELECT id, name, join_code FROM class_station WHERE studio_id = $1::uuid AND class_id = $2::uuid ORDER BY position', [studioId, classId]);
}

/** A lot by the number that stands on a card; `preferId` where two suppliers use the same number. */
export async function lotByNumber({ orm }: OrmTx, studioId: string, lot: { substance: string; lotNumber: string }, preferId: string | null) {
  const found = await orm.lot.findMany({
    where: { studio_id: studioId, substance: lot.substance, lot_number: lot.lotNumber },
    orderBy: { received_at: 'desc' },
    select: { id: true },
  });
  return found.find(({ id }) => id === preferId) ?? found[0];
}
