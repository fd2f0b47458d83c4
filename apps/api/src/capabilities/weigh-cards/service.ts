import type { CardOut, ChangeOut, ReadingOut, RecordReading } from '@ashwater/contracts';
import { newId } from '../../ids.ts';
import { nextNumber } from '../../plugins/database/counter.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { notFound } from '../../problems/domain-problem.ts';
import type { Context, SeatContext, StaffContext } from '../../request-context.ts';
import { gearFor } from '../gear/service.ts';
import { withLessons } from './lessons.ts';
import { cardContent } from './content.ts';
import type { CardFrame } from './content.ts';
import { changeOut } from './change-service.ts';
import { judgedNow, openCard, writeReading, writeStepDone } from './open-card-service.ts';
import type { JudgedReading } from './open-card-service.ts';
import { purityOf, scalesOf } from './plan-station.ts';
import type { LotPurity, Planned, StationSetUp } from './plan-station.ts';
import { requireFinished, requireStep } from './progress.ts';
import * as store from './store.ts';

export { planStation, scalesOf } from './plan-station.ts';
export type { LotPurity, Planned, StationSetUp } from './plan-station.ts';

export const cardOut = (row: store.CardRow): CardOut => ({
  id: row.id,
  classId: row.class_id,
  classStationId: row.class_station_id,
  number: row.number,
  issue: row.issue,
  issuedAt: row.issued_at.toISOString(),
  joinCode: row.join_code,
  voided: row.voided,
  content: row.content,
  changes: row.changes.map(changeOut),
});

export async function getCard({ tx, studio }: Context, id: string): Promise<CardOut> {
  const row = await store.cardById(tx, studio.id, id);
  if (!row) throw notFound('This weigh card');
  return cardOut(row);
}

export async function cardsOfClass(tx: Tx, studioId: string, classId: string): Promise<CardOut[]> {
  return (await store.cardsOfClass(tx, studioId, classId)).map(cardOut);
}

/** The cards in force at a class's stations, and their readings as they stand judged now. */
export async function cardsInForce(tx: Tx, studioId: string, classId: string): Promise<{ cards: CardOut[]; readings: JudgedReading[] }> {
  const rows = (await store.cardsOfClass(tx, studioId, classId)).filter((row) => !row.voided);
  const ids = rows.map((row) => row.id);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const readings = (await store.readings(tx, studioId, ids)).map((reading) => judgedNow(reading, byId.get(reading.card_id)!));
  return { cards: rows.map(cardOut), readings };
}

export type CardOrder = {
  classId: string;
  classStationId: string;
  recipeId: string;
  recipeVersionId: string;
  /** What notes changed and still holds. */
  changes: readonly ChangeOut[];
  planned: Planned;
  station: StationSetUp;
  frame: CardFrame;
  lots: readonly LotPurity[];
  /** Of the card that this one replaces: the same number with the next issue. Left out: a new number. */
  number?: string;
};

/** Issues and freezes one station's card; an earlier issue is voided by it. */
export async function issueCard(context: StaffContext, order: CardOrder): Promise<void> {
  const { planned, station, frame, lots, recipeId, changes, number: earlier, ...card } = order;
  const basis = { recipe: planned.recipe, purity: purityOf(lots), ...scalesOf(station) };
  const content = { ...withLessons(cardContent(planned, station, frame, lots, gearFor(planned.recipe)), changes, recipeId), basis };
  const number = earlier ?? `W-${String(await nextNumber(context.tx, context.studio.id, 'card')).padStart(4, '0')}`;
  await store.insertCard(context.tx, {
    studioId: context.studio.id,
    id: newId(context.now.getTime()),
    number,
    at: context.now,
    by: context.actor.id,
    ...card,
    content,
  });
}

export const readingOut = (row: JudgedReading): ReadingOut => ({
  id: row.id,
  stepNo: row.step_no,
  entered: row.entered,
  massMg: row.mass_mg,
  temperatureC: row.temperature_milli_c === null ? null : row.temperature_milli_c / 1000,
  verdict: row.verdict,
  offBy: row.off_by,
  advice: row.advice,
  at: row.at.toISOString(),
  byName: row.by_name,
  superseded: row.superseded,
  seatId: row.seat_id,
  source: row.source,
  second: row.second,
  check: row.second_read,
});

/** Records what the scale or thermometer showed, and says at once what it means. */
export async function recordReading(context: SeatContext, cardId: string, input: RecordReading): Promise<ReadingOut> {
  const state = await openCard(context, cardId);
  const step = requireStep(state, input.stepNo);
  return writeReading(context, state, step, { ...input, source: 'station' });
}

/** Marks the next step as done, once what it asks for is there. */
export async function finishStep(context: SeatContext, cardId: string, stepNo: number): Promise<{ currentStepNo: number | null }> {
  const state = await openCard(context, cardId);
  const step = requireStep(state, stepNo);
  requireFinished(state, step);
  return writeStepDone(context, state, stepNo);
}

export { openCard, standingOf, writeStepDone } from './open-card-service.ts';
export { openPaperCard, requirePaperStep } from './paper-service.ts';
export { currentStep, requireStep } from './progress.ts';
export { currentCardAt, stepsDone } from './store.ts';
