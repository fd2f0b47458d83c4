import type { CardOut, ClassOut, CreateClass } from '@ashwater/contracts';
import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import { newCode } from '../../ids.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { OrmStaffContext, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { lockRoom } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import { getVersion } from '../recipes/service.ts';
import { lotForPurity, papersForClass, shelfMg } from '../stock/service.ts';
import { cardsOfClass } from '../weigh-cards/service.ts';
import { issueCards, prepare, readinessAt, refuseUnsafe, requireClass, requireLot } from './plan-service.ts';
import { totalsOf } from './readiness.ts';
import { checklistOf, refuseUnsoundRoom } from './ready-service.ts';
import { readStations } from './set-up.ts';
import { benches } from './station-store.ts';
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
  otherRecipes: new Set(row.stations.flatMap(({ recipe_version_id: own }) => (own && own !== row.recipe_version_id ? [own] : []))).size,
});
export const listClasses = async ({ tx, studio }: OrmStaffContext) => (await store.list(tx, studio.id)).map(summary);

async function readClass(context: OrmStaffContext, input: CreateClass): Promise<store.ClassInput> {
  const { tx, studio } = context;
  const setUps = readStations(input.stations);
  await getVersion(context, input.recipeVersionId);
  await requireLot(tx, studio.id, input.naohLotId, 'NaOH', '/naohLotId');
  await requireLot(tx, studio.id, input.kohLotId, 'KOH', '/kohLotId');
  const known = new Map((await benches(tx, studio.id)).map((bench) => [bench.id, bench]));
  for (const versionId of new Set(input.stations.flatMap((station) => station.recipeVersionId ?? []))) await getVersion(context, versionId);
  const stations = input.stations.map((station, i) => {
    const bench = known.get(station.stationId);
    if (!bench) throw inputRefused(`/stations/${i}/stationId`, 'This station was not found in this studio.');
    return {
      id: station.id,
      stationId: station.stationId,
      name: bench.name,
      position: i,
      mouldName: station.mouldName,
      recipeVersionId: station.recipeVersionId ?? null,
      joinCode: newCode(),
      ...setUps[i]!,
    };
  });
  return { ...input, startsAt: new Date(input.startsAt), stations };
}

export async function createClass(context: OrmStaffContext, input: CreateClass): Promise<{ id: string }> {
  const read = await readClass(context, input);
  await store.insert(context.tx, context.studio.id, { ...read, joinCode: newCode(), at: context.now, by: context.actor.id });
  await audit(context, 'prepared a class', `class:${input.id}`);
  return { id: input.id };
}

const frozen = () => new DomainProblem('class-not-draft', 'This class is published; its cards are frozen.');

export async function updateClass(context: OrmStaffContext, id: string, input: CreateClass): Promise<{ id: string }> {
  await requireClass(context, id);
  if (!(await store.holdDraft(context.tx, context.studio.id, id))) throw frozen();
  await store.replace(context.tx, context.studio.id, { ...(await readClass(context, input)), id });
  await audit(context, 'changed a class', `class:${id}`);
  return { id };
}

/** What the class takes of each lot: of the card's lot where there is a card, of the class's where there is only a plan. */
async function stockOf(context: OrmStaffContext, row: store.ClassRow, readiness: ClassOut['readiness'], cardAt: (id: string) => CardOut | undefined) {
  const { tx, studio } = context;
  const stock: ClassOut['stock'] = [];
  for (const [substance, lotId, key] of [
    ['NaOH', row.naoh_lot_id, 'naohMg'],
    ['KOH', row.koh_lot_id, 'kohMg'],
  ] as const) {
    const own = lotId ? await lotForPurity(tx, studio.id, lotId) : undefined;
    const byLot = new Map<string | null, number>();
    for (const item of readiness) {
      const card = cardAt(item.classStationId);
      const lotNumber = card ? (card.content.lots.find((lot) => lot.substance === substance)?.lotNumber ?? null) : (own?.lotNumber ?? null);
      if (item[key] > 0) byLot.set(lotNumber, (byLot.get(lotNumber) ?? 0) + item[key]);
    }
    for (const [lotNumber, neededMg] of byLot) {
      const lot = lotNumber === null ? undefined : await store.lotByNumber(tx, studio.id, { substance, lotNumber }, lotId);
      const inCabinetMg = lot ? await shelfMg(tx, studio.id, lot.id) : 0;
      const sheet = (lot && (await papersForClass(context, lot.id))) ?? null;
      stock.push({ substance: SUBSTANCE_NAMES[substance], neededMg, inCabinetMg, lotNumber, enough: inCabinetMg >= neededMg, sheet });
    }
  }
  return stock;
}

/** `sparePercent` left out: the spare of the class itself. */
export async function getClass(context: OrmStaffContext, id: string, sparePercent?: number): Promise<ClassOut> {
  const { tx, studio } = context;
  const row = await requireClass(context, id);
  const { prepared } = await prepare(context, row);
  const cards = (await cardsOfClass(tx, studio.id, id)).filter((card) => !card.voided);
  const cardAt = (stationId: string) => cards.find((card) => card.classStationId === stationId);
  const stations = prepared.map(({ station, version, setUp: { checks: _checks, ...setUp } }) => {
    const card = cardAt(station.id);
    return {
      id: station.id,
      stationId: station.station_id,
      ...setUp,
      recipeVersionId: station.recipe_version_id,
      recipeTitle: version.title,
      recipeVersionNumber: version.number,
      joinCode: station.join_code,
      cardId: card?.id ?? null,
      cardNumber: card?.number ?? null,
      cardIssue: card?.issue ?? null,
    };
  });
  const readiness = prepared.map((each) => readinessAt(each, cardAt(each.station.id)));
  const totals = totalsOf(
    prepared.map(({ station, planned }) => cardAt(station.id)?.content.lines ?? (planned.ok ? planned.value.plan.lines : [])),
    sparePercent ?? row.spare_percent,
  );
  const stock = await stockOf(context, row, readiness, cardAt);
  const checklist = await checklistOf(context, row, { prepared, readiness, stock, totals });
  return {
    ...summary(row),
    recipeId: row.version.recipe_id,
    recipeVersionId: row.recipe_version_id,
    naohLotId: row.naoh_lot_id,
    kohLotId: row.koh_lot_id,
    sparePercent: row.spare_percent,
    cancelledReason: row.cancelled_reason,
    joinCode: row.join_code,
    stations,
    readiness,
    stock,
    totals,
    checklist,
  };
}

/** Issues one frozen card per station, or none: a single unsafe station refuses the whole class. */
export async function publishClass(context: OrmStaffContext, id: string) {
  const { tx, studio, now } = context;
  await requireClass(context, id);
  if (!(await store.markPublished(tx, studio.id, id, now))) throw frozen();
  // Read again, now that nobody can change it: a colleague may have saved just before.
  const row = await requireClass(context, id);
  await refuseUnsoundRoom(context, id);
  const planned = await prepare(context, row);
  refuseUnsafe(planned.prepared);
  await issueCards(context, row, planned);
  await audit(context, 'published a class', `class:${id}`, { cards: planned.prepared.length });
  await announce(context, { kind: 'class-published', classId: id });
  return { cards: await cardsOfClass(tx, studio.id, id) };
}

export async function closeClass(context: StaffContext, id: string): Promise<Record<string, never>> {
  if (!(await store.frame(context.tx, context.studio.id, id))) throw notFound('This class');
  // An act at a station either comes before this or finds the class closed.
  await lockRoom(context.tx, id, 'stop');
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
