import type { CardChangeOut, CardStep, ProposalOut, StationView } from '@ashwater/contracts';
import { newId } from '../ids.ts';
import { ok } from './classroom.ts';
import type { SeatAt } from './classroom.ts';
import type { Answer, Caller } from './test-studio.ts';

/** What a good reading of the step looks like, as typed. */
export const goodEntry = (step: CardStep): string =>
  step.kind === 'temperature' ? String(Math.floor((step.highC ?? 40) - 5)) : String((step.targetMg ?? 0) / 1000);

export const read = (seat: SeatAt, step: Pick<CardStep, 'no'>, entered: string, more: { supersedesId?: string | null; id?: string; key?: string } = {}) =>
  seat.by.post(
    `/api/cards/${seat.bench.card.id}/readings`,
    { id: more.id ?? newId(), stepNo: step.no, entered, supersedesId: more.supersedesId ?? null },
    more.key,
  );
export const done = (seat: SeatAt, stepNo: number, key?: string) => seat.by.post(`/api/cards/${seat.bench.card.id}/steps/${stepNo}/done`, {}, key);
export const label = (seat: SeatAt, mass = '100', key?: string) => seat.by.post('/api/jars', { id: newId(), cardId: seat.bench.card.id, mass }, key);

/** Somebody with no device of their own reads the scale as the second person and types their name. */
export const check = (seat: SeatAt, readingId: string, entered: string, byName: string | undefined = 'Bea, helping', key?: string) =>
  seat.by.post(`/api/readings/${readingId}/check`, { id: newId(), entered, byName }, key);
const needsSecond = (step: CardStep): boolean => step.kind === 'weigh' && (step.lineKey === 'naoh' || step.lineKey === 'koh');

/** Does all that a step asks for, and finishes it. */
export async function finish(seat: SeatAt, step: CardStep): Promise<void> {
  if (step.kind === 'label') {
    await ok(label(seat));
    return;
  }
  if (step.kind === 'weigh' || step.kind === 'temperature') {
    const { id } = await ok<{ id: string }>(read(seat, step, goodEntry(step)));
    if (needsSecond(step)) await ok(check(seat, id, goodEntry(step)));
  }
  await ok(done(seat, step.no));
}

export const stepsOf = (seat: SeatAt): CardStep[] => seat.bench.card.content.steps;
/** Finishes every step before the one named. */
export async function workTo(seat: SeatAt, stepNo: number): Promise<void> {
  for (const step of stepsOf(seat)) if (step.no < stepNo) await finish(seat, step);
}
export const firstCaustic = (seat: SeatAt): CardStep => stepsOf(seat).find((step) => step.caustic)!;

/** The station as its page sees it now, with every change of the card in it. */
export const viewOf = (seat: SeatAt): Promise<StationView> => ok<StationView>(seat.by.get('/api/station'));
export const proposal = (by: Caller, seat: SeatAt, stepNo: number, mixed = true): Promise<Answer> =>
  by.get(`/api/cards/${seat.bench.card.id}/proposal?stepNo=${stepNo}&mixed=${mixed}`);
export const approve = (by: Caller, seat: SeatAt, from: Pick<ProposalOut, 'stepNo' | 'mixed' | 'act' | 'basis'>, key?: string): Promise<Answer> => {
  const { stepNo, mixed, act, basis } = from;
  return by.post(`/api/cards/${seat.bench.card.id}/changes`, { id: newId(), stepNo, mixed, act, basis }, key);
};
/** The instructor reads what is proposed and approves it. */
export async function changed(by: Caller, seat: SeatAt, stepNo: number, mixed = true): Promise<CardChangeOut> {
  return ok<CardChangeOut>(approve(by, seat, await ok<ProposalOut>(proposal(by, seat, stepNo, mixed))));
}
