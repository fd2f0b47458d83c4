import type { CardOut, ClassOut } from '@ashwater/contracts';
import type { OrmTx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { changesInForce } from '../incidents/service.ts';
import { getVersion } from '../recipes/service.ts';
import { lotForPurity } from '../stock/service.ts';
import { issueCard, planStation, scalesOf } from '../weigh-cards/service.ts';
import type { LotPurity, StationSetUp } from '../weigh-cards/service.ts';
import { checksInForce, checkWords, forPlanning } from './check-weighing.ts';
import type { Check } from './check-weighing.ts';
import { massOf, readinessOf } from './readiness.ts';
import type { Said } from './readiness.ts';
import { checksOf, setUpOf } from './station-store.ts';
import * as store from './store.ts';

export type ClassStation = store.ClassRow['stations'][number];
type Version = Awaited<ReturnType<typeof getVersion>>;
export type Prepared = {
  station: ClassStation;
  version: Version;
  setUp: StationSetUp & ReturnType<typeof setUpOf>;
  checks: Said;
  planned: ReturnType<typeof planStation>;
};
export type Lots = (LotPurity & { id: string })[];

export async function requireClass({ tx, studio }: OrmStaffContext, id: string): Promise<store.ClassRow> {
  const row = await store.byId(tx, studio.id, id);
  if (!row) throw notFound('This class');
  return row;
}

export async function requireLot(tx: OrmTx, studioId: string, lotId: string | null, substance: string, pointer: string): Promise<void> {
  if (lotId === null) return;
  const lot = await lotForPurity(tx, studioId, lotId);
  if (!lot || lot.substance !== substance) throw inputRefused(pointer, 'Choose a lot of this substance from the cabinet.');
}

/** A class station plans with the checks of its bench's scales that speak for them now. */
function checked(setUp: StationSetUp & ReturnType<typeof setUpOf>, checks: readonly Check[], now: Date): Pick<Prepared, 'setUp' | 'checks'> {
  const of = (use: Check['scale']) => checks.filter((check) => check.scale === use);
  const { scale, scaleByKind } = scalesOf(setUp);
  const lye = scaleByKind.naoh;
  const said = [checkWords(lye ? 'main scale' : 'scale', of('main'), scale, now), ...(lye ? [checkWords('scale for lye', of('lye'), lye, now)] : [])];
  const main = forPlanning(checksInForce(of('main'), scale, now));
  return {
    setUp: { ...setUp, checks: { main, lye: lye ? forPlanning(checksInForce(of('lye'), lye, now)) : [] } },
    checks: { faults: said.flatMap(({ fault }) => fault ?? []), notes: said.flatMap(({ note }) => note ?? []) },
  };
}

/** The version a station makes: its own, else that of the class. */
export const versionIdOf = (row: Pick<store.ClassRow, 'recipe_version_id'>, station: Pick<ClassStation, 'recipe_version_id'>): string =>
  station.recipe_version_id ?? row.recipe_version_id;

/** The plan of every station of the class as it stands in `row`, each for its own recipe version, scale and mould. */
export async function prepare(context: OrmStaffContext, row: store.ClassRow): Promise<{ lots: Lots; prepared: Prepared[] }> {
  const { tx, studio, now } = context;
  const versions = new Map<string, Version>();
  for (const id of new Set([row.recipe_version_id, ...row.stations.map((station) => versionIdOf(row, station))]))
    versions.set(id, await getVersion(context, id));
  const lots: Lots = [];
  for (const lotId of [row.naoh_lot_id, row.koh_lot_id]) {
    const lot = lotId && (await lotForPurity(tx, studio.id, lotId));
    if (lot) lots.push(lot);
  }
  const checks = await checksOf(
    tx,
    studio.id,
    row.stations.map((station) => station.station_id),
  );
  const prepared = row.stations.map((station) => {
    const own = checks.filter((check) => check.stationId === station.station_id);
    const { setUp, checks: said } = checked({ name: station.name, ...setUpOf(station) }, own, now);
    const version = versions.get(versionIdOf(row, station))!;
    return { station, version, setUp, checks: said, planned: planStation(version.draft, lots, setUp) };
  });
  return { lots, prepared };
}

export const readinessAt = ({ station, ...rest }: Prepared, card?: CardOut): ClassOut['readiness'][number] => readinessOf(station, { ...rest, card });

/** @throws card-not-safe naming every station without a safe plan; `indexOf` says where it stands in the request */
export function refuseUnsafe(prepared: readonly Prepared[], indexOf: (station: ClassStation, i: number) => number = (_station, i) => i): void {
  const unsafe = prepared.flatMap((each, i) =>
    readinessAt(each).faults.map((detail) => ({ pointer: `/stations/${indexOf(each.station, i)}`, detail: `${each.station.name}: ${detail}` })),
  );
  if (unsafe.length > 0) throw new DomainProblem('card-not-safe', `No card was issued. ${unsafe[0]!.detail}`, unsafe);
}

/** Issues a frozen card for each of these stations; `numberOf` keeps the number of the card that is replaced. */
export async function issueCards(
  context: OrmStaffContext,
  row: store.ClassRow,
  { lots, prepared }: { lots: Lots; prepared: readonly Prepared[] },
  numberOf: (stationId: string) => string | undefined = () => undefined,
): Promise<void> {
  // Once for the class, not for each of its cards.
  const changes = await changesInForce(context.tx, context.studio.id);
  for (const { station, version, setUp, planned } of prepared) {
    if (!planned.ok) continue;
    const used = lots.filter((lot) => massOf(planned.value.plan.lines, lot.substance === 'NaOH' ? 'naoh' : 'koh') > 0);
    const number = numberOf(station.id);
    await issueCard(context, {
      classId: row.id,
      classStationId: station.id,
      recipeId: version.recipeId,
      recipeVersionId: version.id,
      changes,
      planned: planned.value,
      station: setUp,
      frame: {
        recipeTitle: version.title,
        recipeVersionNumber: version.number,
        classTitle: row.title,
        startsAt: row.starts_at.toISOString(),
        room: row.room,
      },
      lots: used,
      ...(number === undefined ? {} : { number }),
    });
  }
}
