import type { StationOut } from '@ashwater/contracts';
import type { AccuracyClass } from '@ashwater/formulation';
import type { OrmTx } from '../../plugins/database/database.ts';
import type { Check } from './check-weighing.ts';
import type { SetUp } from './set-up.ts';

type Columns = {
  scale_step_mg: bigint;
  scale_capacity_mg: bigint;
  mould_name: string;
  mould_volume_ml: number;
  verification_interval_mg: bigint | null;
  accuracy_class: string | null;
  lye_scale_step_mg: bigint | null;
  lye_scale_capacity_mg: bigint | null;
  pot_material: string | null;
  pot_volume_ml: number | null;
};
const numberOr = (value: bigint | null): number | null => (value === null ? null : Number(value));

/** Scales, mould and container of a station or of a class's station. The database lets no other accuracy class in. */
export const setUpOf = (row: Columns): SetUp & { mouldName: string } => ({
  scaleStepMg: Number(row.scale_step_mg),
  scaleCapacityMg: Number(row.scale_capacity_mg),
  mouldName: row.mould_name,
  mouldVolumeMl: row.mould_volume_ml,
  verificationIntervalMg: numberOr(row.verification_interval_mg),
  accuracyClass: row.accuracy_class as AccuracyClass | null,
  lyeScaleStepMg: numberOr(row.lye_scale_step_mg),
  lyeScaleCapacityMg: numberOr(row.lye_scale_capacity_mg),
  potMaterial: row.pot_material,
  potVolumeMl: row.pot_volume_ml,
});
export const setUpColumns = (setUp: SetUp & { mouldName: string }) => ({
  scale_step_mg: setUp.scaleStepMg,
  scale_capacity_mg: setUp.scaleCapacityMg,
  mould_name: setUp.mouldName,
  mould_volume_ml: setUp.mouldVolumeMl,
  verification_interval_mg: setUp.verificationIntervalMg,
  accuracy_class: setUp.accuracyClass,
  lye_scale_step_mg: setUp.lyeScaleStepMg,
  lye_scale_capacity_mg: setUp.lyeScaleCapacityMg,
  pot_material: setUp.potMaterial,
  pot_volume_ml: setUp.potVolumeMl,
});

export async function benches({ orm }: OrmTx, studioId: string): Promise<StationOut[]> {
  const rows = await orm.station.findMany({ where: { studio_id: studioId }, orderBy: [{ position: 'asc' }, { name: 'asc' }] });
  return rows.map((row) => ({ id: row.id, name: row.name, ...setUpOf(row) }));
}
type Bench = SetUp & { id: string; name: string; mouldName: string };
export async function insertBench({ orm }: OrmTx, studioId: string, bench: Bench): Promise<void> {
  const position = await orm.station.count({ where: { studio_id: studioId } });
  await orm.station.create({ data: { studio_id: studioId, id: bench.id, name: bench.name, position, ...setUpColumns(bench) } });
}
export async function updateBench({ orm }: OrmTx, studioId: string, bench: Bench): Promise<void> {
  await orm.station.update({ where: { studio_id_id: { studio_id: studioId, id: bench.id } }, data: { name: bench.name, ...setUpColumns(bench) } });
}

/** Newest first. */
export async function checksOf({ orm }: OrmTx, studioId: string, stationIds: string[]): Promise<Check[]> {
  const rows = await orm.check_weighing.findMany({
    where: { studio_id: studioId, station_id: { in: stationIds } },
    orderBy: { at: 'desc' },
    take: 500,
    include: { account: { select: { name: true } } },
  });
  return rows.map((row) => ({
    id: row.id,
    stationId: row.station_id,
    scale: row.scale as Check['scale'],
    knownMg: Number(row.known_mg),
    knownLimitMg: Number(row.known_limit_mg),
    shownMg: Number(row.shown_mg),
    at: row.at,
    byName: row.account.name,
  }));
}
export async function insertCheck({ orm }: OrmTx, studioId: string, check: Omit<Check, 'byName'> & { by: string }): Promise<void> {
  await orm.check_weighing.create({
    data: {
      studio_id: studioId,
      id: check.id,
      station_id: check.stationId,
      scale: check.scale,
      known_mg: check.knownMg,
      known_limit_mg: check.knownLimitMg,
      shown_mg: check.shownMg,
      at: check.at,
      by: check.by,
    },
  });
}
