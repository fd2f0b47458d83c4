import type { ClassOut, CreateClass } from '@ashwater/contracts';
import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import { newCode } from '../../ids.ts';
import type { OrmTx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { OrmStaffContext, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { getVersion } from '../recipes/service.ts';
import { lotForPurity, shelfMg } from '../stock/service.ts';
import { cardsOfClass, issueCard, planStation, scalesOf } from '../weigh-cards/service.ts';
import type { LotPurity, StationSetUp } from '../weigh-cards/service.ts';
import { checksInForce, checkWords, forPlanning } from './check-weighing.ts';
import type { Check } from './check-weighing.ts';
import { massOf, readinessOf, totalsOf } from './readiness.ts';
import type { Said } from './readiness.ts';
import { readStations } from './set-up.ts';
import { benches, checksOf, setUpOf } from './station-store.ts';
import * as store from './store.ts';

type Summarised = Awaited<ReturnType<typeof store.list>>[number];
const summary = (row: Summarised) => ({
  id: row.id,
  title: row.title,
  startsAt: row.starts_at.toISOString(),
  room: row.room,
  status: row.status as ClassOut['status'],
  recipeTitle: row.version.title,
  recipeVersionNumber: row.version.number,
  stationCount: row._count.stations,
});
export const listClasses = async ({ tx, studio }: OrmStaffContext) => (await store.list(tx, studio.id)).map(summary);

async function readClass(context: OrmStaffContext, input: CreateClass): Promise<store.ClassInput> {
  const { tx, studio } = context;
  const setUps = readStations(input.stations);
  await getVersion(context, input.recipeVersionId);
  await requireLot(tx, studio.id, input.naohLotId, 'NaOH', '/naohLotId');
  await requireLot(tx, studio.id, input.kohLotId, 'KOH', '/kohLotId');
  const known = new Map((await benches(tx, studio.id)).map((bench) => [bench.id, bench]));
  const stations = input.stations.map((station, i) => {
    const bench = known.get(station.stationId);
    if (!bench) throw inputRefused(`/stations/${i}/stationId`, 'This station was not found in this studio.');
    return { id: station.id, stationId: station.stationId, name: bench.name, position: i, mouldName: station.mouldName, joinCode: newCode(), ...setUps[i]! };
  });
  return { ...input, startsAt: new Date(input.startsAt), stations };
}

async function requireLot(tx: OrmTx, studioId: string, lotId: string | null, substance: string, pointer: string): Promise<void> {
  if (lotId === null) return;
  const lot = await lotForPurity(tx, studioId, lotId);
  if (!lot || lot.substance !== substance) throw inputRefused(pointer, 'Choose a lot of this substance from the cabinet.');
}

export async function createClass(context: OrmStaffContext, input: CreateClass): Promise<{ id: string }> {
  const read = await readClass(context, input);
  await store.insert(context.tx, context.studio.id, { ...read, joinCode: newCode(), at: context.now, by: context.actor.id });
  await audit(context, 'prepared a class', `class:${input.id}`);
  return { id: input.id };
}

async function requireClass({ tx, studio }: OrmStaffContext, id: string): Promise<store.ClassRow> {
  const row = await store.byId(tx, studio.id, id);
  if (!row) throw notFound('This class');
  return row;
}
const frozen = () => new DomainProblem('class-not-draft', 'This class is published; its cards are frozen.');

export async function updateClass(context: OrmStaffContext, id: string, input: CreateClass): Promise<{ id: string }> {
  await requireClass(context, id);
  if (!(await store.holdDraft(context.tx, context.studio.id, id))) throw frozen();
  await store.replace(context.tx, context.studio.id, { ...(await readClass(context, input)), id });
  await audit(context, 'changed a class', `class:${id}`);
  return { id };
}

type Prepared = {
  station: store.ClassRow['stations'][number];
  setUp: StationSetUp & ReturnType<typeof setUpOf>;
  checks: Said;
  planned: ReturnType<typeof planStation>;
};

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

async function prepare(context: OrmStaffContext, row: store.ClassRow): Promise<{ lots: LotPurity[]; prepared: Prepared[] }> {
  const { tx, studio, now } = context;
  const version = await getVersion(context, row.recipe_version_id);
  const lots: LotPurity[] = [];
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
    return { station, setUp, checks: said, planned: planStation(version.draft, lots, setUp) };
  });
  return { lots, prepared };
}

export async function getClass(context: OrmStaffContext, id: string, sparePercent: number): Promise<ClassOut> {
  const { tx, studio } = context;
  const row = await requireClass(context, id);
  const { prepared } = await prepare(context, row);
  const cards = (await cardsOfClass(tx, studio.id, id)).filter((card) => !card.voided);
  const cardAt = (stationId: string) => cards.find((card) => card.classStationId === stationId);
  const stations = prepared.map(({ station, setUp: { checks: _checks, ...setUp } }) => {
    const card = cardAt(station.id);
    return { id: station.id, stationId: station.station_id, ...setUp, joinCode: station.join_code, cardId: card?.id ?? null, cardNumber: card?.number ?? null };
  });
  const readiness = prepared.map(({ station, ...rest }) => readinessOf(station, { ...rest, card: cardAt(station.id) }));
  const totals = totalsOf(
    prepared.map(({ station, planned }) => cardAt(station.id)?.content.lines ?? (planned.ok ? planned.value.plan.lines : [])),
    sparePercent,
  );
  const stock = [];
  for (const [substance, lotId, key] of [
    ['NaOH', row.naoh_lot_id, 'naohMg'],
    ['KOH', row.koh_lot_id, 'kohMg'],
  ] as const) {
    const neededMg = readiness.reduce((sum, each) => sum + each[key], 0);
    if (neededMg === 0) continue;
    const lot = lotId ? await lotForPurity(tx, studio.id, lotId) : undefined;
    const inCabinetMg = lotId ? await shelfMg(tx, studio.id, lotId) : 0;
    stock.push({ substance: SUBSTANCE_NAMES[substance], neededMg, inCabinetMg, lotNumber: lot?.lotNumber ?? null, enough: inCabinetMg >= neededMg });
  }
  return {
    ...summary(row),
    recipeId: row.version.recipe_id,
    recipeVersionId: row.recipe_version_id,
    naohLotId: row.naoh_lot_id,
    kohLotId: row.koh_lot_id,
    joinCode: row.join_code,
    stations,
    readiness,
    stock,
    totals,
  };
}

/** Issues one frozen card per station, or none: a single unsafe station refuses the whole class. */
export async function publishClass(context: OrmStaffContext, id: string) {
  const { tx, studio, now } = context;
  await requireClass(context, id);
  if (!(await store.markPublished(tx, studio.id, id, now))) throw frozen();
  // Read again, now that nobody can change it: a colleague may have saved just before.
  const row = await requireClass(context, id);
  const { lots, prepared } = await prepare(context, row);
  const unsafe = prepared.flatMap(({ station, ...rest }, i) =>
    readinessOf(station, { ...rest, card: undefined }).faults.map((detail) => ({ pointer: `/stations/${i}`, detail: `${station.name}: ${detail}` })),
  );
  if (unsafe.length > 0) throw new DomainProblem('card-not-safe', `No card was issued. ${unsafe[0]!.detail}`, unsafe);
  const frame = {
    recipeTitle: row.version.title,
    recipeVersionNumber: row.version.number,
    classTitle: row.title,
    startsAt: row.starts_at.toISOString(),
    room: row.room,
  };
  for (const { station, setUp, planned } of prepared) {
    if (!planned.ok) continue;
    const used = lots.filter((lot) => massOf(planned.value.plan.lines, lot.substance === 'NaOH' ? 'naoh' : 'koh') > 0);
    await issueCard(context, {
      classId: id,
      classStationId: station.id,
      recipeVersionId: row.recipe_version_id,
      planned: planned.value,
      station: setUp,
      frame,
      lots: used,
    });
  }
  await audit(context, 'published a class', `class:${id}`, { cards: prepared.length });
  await announce(context, { kind: 'class-published', classId: id });
  return { cards: await cardsOfClass(tx, studio.id, id) };
}

export async function closeClass(context: StaffContext, id: string): Promise<Record<string, never>> {
  if (!(await store.frame(context.tx, context.studio.id, id))) throw notFound('This class');
  if (!(await store.markClosed(context.tx, context.studio.id, id, context.now)))
    throw new DomainProblem('class-not-open', 'Only a published class can be closed.');
  await audit(context, 'closed a class', `class:${id}`);
  await announce(context, { kind: 'class-closed', classId: id });
  return {};
}

export async function getClassCards({ tx, studio }: StaffContext, id: string) {
  if (!(await store.frame(tx, studio.id, id))) throw notFound('This class');
  return { cards: await cardsOfClass(tx, studio.id, id) };
}
