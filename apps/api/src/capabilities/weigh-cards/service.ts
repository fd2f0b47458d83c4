import type { CardContent, CardOut, CardStep, RecordReading } from '@ashwater/contracts';
import { parseDecimal, parseMass } from '@ashwater/formulation';
import { judgeTemperature } from '@ashwater/formulation';
import { newId } from '../../ids.ts';
import { nextNumber } from '../../plugins/database/counter.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { Context, SeatContext, StaffContext } from '../../request-context.ts';
import { currentStop, gateOf, gearFor, lockRoom } from '../gear/service.ts';
import type { StationSeat } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import { cardContent } from './content.ts';
import type { CardFrame } from './content.ts';
import { changeOut } from './change-service.ts';
import { judgeMass, verdictNow } from './effective.ts';
import { purityOf, scalesOf } from './plan-station.ts';
import type { LotPurity, Planned, StationSetUp } from './plan-station.ts';
import { currentStep, requireFinished, requireStep, requireSupersedes } from './progress.ts';
import type { CardState } from './progress.ts';
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
export async function cardsInForce(tx: Tx, studioId: string, classId: string): Promise<{ cards: CardOut[]; readings: store.ReadingRow[] }> {
  const rows = (await store.cardsOfClass(tx, studioId, classId)).filter((row) => !row.voided);
  const ids = rows.map((row) => row.id);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const readings = (await store.readings(tx, studioId, ids)).map((reading) => {
    const row = byId.get(reading.card_id);
    return row ? { ...reading, verdict: verdictNow(reading, row.content, row.changes) } : reading;
  });
  return { cards: rows.map(cardOut), readings };
}

export type CardOrder = {
  classId: string;
  classStationId: string;
  recipeVersionId: string;
  planned: Planned;
  station: StationSetUp;
  frame: CardFrame;
  lots: readonly LotPurity[];
};

/** Issues and freezes one station's card. */
export async function issueCard(context: StaffContext, order: CardOrder): Promise<void> {
  const { planned, station, frame, lots, ...card } = order;
  const basis = { recipe: planned.recipe, purity: purityOf(lots), ...scalesOf(station) };
  const content = { ...cardContent(planned, station, frame, lots, gearFor(planned.recipe)), basis };
  const number = `W-${String(await nextNumber(context.tx, context.studio.id, 'card')).padStart(4, '0')}`;
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

export type Standing = CardState & { row: store.CardRow; stepRows: store.StepRow[]; readingRows: store.ReadingRow[]; seats: StationSeat[] };

/** Everything a rule or a page needs about the card in force at the seat's station. */
export async function standingOf({ tx, actor, studio, now }: SeatContext, row: store.CardRow): Promise<Standing> {
  const stepRows = await store.stepsDone(tx, studio.id, [row.id]);
  const readingRows = (await store.readings(tx, studio.id, [row.id])).map((reading) => ({
    ...reading,
    verdict: verdictNow(reading, row.content, row.changes),
  }));
  const { gate, seats } = await gateOf(tx, actor, now);
  const stopped = await currentStop(tx, studio.id, row.class_id);
  return {
    row,
    stepRows,
    readingRows,
    seats,
    steps: row.content.steps,
    doneNos: new Set(stepRows.map((step) => step.step_no)),
    standing: new Map(readingRows.filter((reading) => !reading.superseded).map(({ id, step_no, verdict }) => [step_no, { id, verdict }])),
    gate,
    stopped,
    classStatus: row.class_status,
    voided: row.voided,
    seatSignedOut: seats.find((seat) => seat.id === actor.id)?.signedOut ?? true,
  };
}

/** Locks the room against a stop and the card against its neighbours, then reads how things stand. */
export async function openCard(context: SeatContext, cardId: string): Promise<Standing> {
  const { tx, actor, studio } = context;
  const row = await store.cardById(tx, studio.id, cardId);
  if (!row || row.class_station_id !== actor.classStationId) throw notFound('This weigh card');
  await lockRoom(tx, row.class_id, 'act');
  await store.lockCard(tx, cardId);
  // Read again under the lock: the instructor may have changed the card while this act waited.
  return standingOf(context, (await store.cardById(tx, studio.id, cardId)) ?? row);
}

function judge(content: CardContent, step: CardStep, entered: string) {
  const refuse = (problems: { detail: string; code: string }[]) =>
    new DomainProblem(
      'input-refused',
      problems[0]!.detail,
      problems.map(({ detail, code }) => ({ pointer: '/entered', detail, code })),
    );
  const mass = step.kind === 'weigh' ? parseMass(entered) : undefined;
  if (mass && !mass.ok) throw refuse(mass.problems);
  const judged = mass?.ok ? judgeMass(content, step, mass.value.massMg) : undefined;
  if (mass?.ok && judged)
    return { massMg: mass.value.massMg, temperatureMilliC: null, verdict: judged.verdict, offBy: Math.round(judged.byMg), advice: judged.advice };
  if (step.kind === 'temperature' && step.lowC !== null && step.highC !== null) {
    const read = parseDecimal(entered.replace(/\s*°?\s*C\s*$/i, ''), { name: 'The temperature', min: -30, max: 200, maxDecimals: 1 });
    if (!read.ok) throw refuse(read.problems);
    const judged = judgeTemperature({ lowC: step.lowC, highC: step.highC }, read.value.value);
    const advice = judged.verdict === 'over' ? `${judged.advice} Call your instructor: the card expected less.` : judged.advice;
    return { massMg: null, temperatureMilliC: Math.round(read.value.value * 1000), verdict: judged.verdict, offBy: Math.round(judged.byC * 1000), advice };
  }
  throw new DomainProblem('input-refused', 'This step takes no reading.', [{ pointer: '/stepNo', detail: 'This step takes no reading.' }]);
}

export const readingOut = (row: store.ReadingRow) => ({
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
});

/** Records what the scale or thermometer showed, and says at once what it means. */
export async function recordReading(context: SeatContext, cardId: string, input: RecordReading) {
  const state = await openCard(context, cardId);
  const step = requireStep(state, input.stepNo);
  const judged = judge(state.row.content, step, input.entered);
  requireSupersedes(state, input.stepNo, input.supersedesId);
  const { tx, actor, studio, now } = context;
  await store.insertReading(tx, {
    studioId: studio.id,
    id: input.id,
    cardId,
    stepNo: step.no,
    seatId: actor.id,
    entered: input.entered,
    ...judged,
    supersedesId: input.supersedesId,
    at: now,
  });
  await announce(context, { kind: 'reading-recorded', classId: state.row.class_id, classStationId: state.row.class_station_id, subjectId: input.id });
  return {
    id: input.id,
    stepNo: step.no,
    entered: input.entered,
    massMg: judged.massMg,
    temperatureC: judged.temperatureMilliC === null ? null : judged.temperatureMilliC / 1000,
    verdict: judged.verdict,
    offBy: judged.offBy,
    advice: judged.advice,
    at: now.toISOString(),
    byName: actor.name,
    superseded: false,
  };
}

/** Marks the next step as done, once what it asks for is there. */
export async function finishStep(context: SeatContext, cardId: string, stepNo: number): Promise<{ currentStepNo: number | null }> {
  const state = await openCard(context, cardId);
  const step = requireStep(state, stepNo);
  requireFinished(state, step);
  return writeStepDone(context, state, stepNo);
}

/** For the jar's label, which finishes its own step in the same transaction. The caller has judged the step. */
export async function writeStepDone(context: SeatContext, state: Standing, stepNo: number): Promise<{ currentStepNo: number | null }> {
  const { tx, actor, studio, now } = context;
  await store.insertStep(tx, { studioId: studio.id, cardId: state.row.id, stepNo, seatId: actor.id, at: now });
  await announce(context, { kind: 'step-done', classId: state.row.class_id, classStationId: state.row.class_station_id });
  return { currentStepNo: currentStep({ steps: state.steps, doneNos: new Set([...state.doneNos, stepNo]) })?.no ?? null };
}

export { currentStep, requireStep } from './progress.ts';
export { currentCardAt, stepsDone } from './store.ts';
