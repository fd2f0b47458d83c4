import type { CardContent, CardStep, ReadingOut, SecondReading } from '@ashwater/contracts';
import { judgeTemperature, parseDecimal, parseMass } from '@ashwater/formulation';
import type { Actor } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { Context } from '../../request-context.ts';
import { currentStop, gateOf, lockRoom } from '../gear/service.ts';
import type { StationSeat } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import { judgeMass, verdictNow } from './effective.ts';
import { currentStep, requireSupersedes } from './progress.ts';
import type { CardState } from './progress.ts';
import { secondReadingOf, weighsCaustic } from './second-reading.ts';
import * as store from './store.ts';

/* A card at its station: how it stands, and the two ways it goes on. Every act at a card goes through here. */

/** A reading as it stands judged now, and how it stands with its second reading. */
export type JudgedReading = store.ReadingRow & { second: SecondReading };
export function judgedNow(reading: store.ReadingRow, row: store.CardRow): JudgedReading {
  const judged = { ...reading, verdict: verdictNow(reading, row.content, row.changes) };
  return { ...judged, second: secondReadingOf(judged, row.content, row.changes) };
}

export type Standing = CardState & { row: store.CardRow; stepRows: store.StepRow[]; readingRows: JudgedReading[]; seats: StationSeat[] };

/** Everything a rule or a page needs about the card in force at a station, for a seat there or for staff. */
export async function standingOf({ tx, actor, studio, now }: Context<Tx, Actor>, row: store.CardRow): Promise<Standing> {
  const stepRows = await store.stepsDone(tx, studio.id, [row.id]);
  const readingRows = (await store.readings(tx, studio.id, [row.id])).map((reading) => judgedNow(reading, row));
  const { gate, seats } = await gateOf(tx, { studioId: studio.id, classId: row.class_id, classStationId: row.class_station_id }, now);
  const stopped = await currentStop(tx, studio.id, row.class_id);
  return {
    row,
    stepRows,
    readingRows,
    seats,
    steps: row.content.steps,
    doneNos: new Set(stepRows.map((step) => step.step_no)),
    standing: new Map(readingRows.filter((reading) => !reading.superseded).map(({ id, step_no, verdict, second }) => [step_no, { id, verdict, second }])),
    gate,
    stopped,
    classStatus: row.class_status,
    voided: row.voided,
    seatSignedOut: actor.kind === 'seat' && (seats.find((seat) => seat.id === actor.id)?.signedOut ?? true),
  };
}

/** Locks the room against a stop and the card against its neighbours, then reads how things stand. */
export async function openCard(context: Context<Tx, Actor>, cardId: string): Promise<Standing> {
  const { tx, actor, studio } = context;
  const row = await store.cardById(tx, studio.id, cardId);
  if (!row || (actor.kind === 'seat' && row.class_station_id !== actor.classStationId)) throw notFound('This weigh card');
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

type NewReading = { id: string; entered: string; supersedesId: string | null; source: 'station' | 'paper' };
/** Judges and writes a reading of a step that the caller has found open. */
export async function writeReading(context: Context<Tx, Actor>, state: Standing, step: CardStep, input: NewReading): Promise<ReadingOut> {
  const judged = judge(state.row.content, step, input.entered);
  requireSupersedes(state, step.no, input.supersedesId);
  const { tx, actor, studio, now } = context;
  await store.insertReading(tx, { studioId: studio.id, cardId: state.row.id, stepNo: step.no, by: actor, ...input, ...judged, at: now });
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
    seatId: actor.kind === 'seat' ? actor.id : null,
    source: input.source,
    second: judged.verdict === 'within' && weighsCaustic(state.row.content, step) ? 'needed' : 'not needed',
    check: null,
  };
}

/** For the jar's label, which finishes its own step in the same transaction. The caller has judged the step. */
export async function writeStepDone(context: Context<Tx, Actor>, state: Standing, stepNo: number): Promise<{ currentStepNo: number | null }> {
  const { tx, actor, studio, now } = context;
  await store.insertStep(tx, { studioId: studio.id, cardId: state.row.id, stepNo, by: actor, at: now });
  await announce(context, { kind: 'step-done', classId: state.row.class_id, classStationId: state.row.class_station_id });
  return { currentStepNo: currentStep({ steps: state.steps, doneNos: new Set([...state.doneNos, stepNo]) })?.no ?? null };
}
