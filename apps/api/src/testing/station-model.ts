import type { CardStep } from '@ashwater/contracts';

/**
 * What a station should allow, told a second time and in the plainest way: the oracle of the property test.
 * It knows nothing of the service's code; times are milliseconds.
 */
export type ModelSeat = { confirmed: Set<string>; signedUntil: number | null; out: boolean; away: boolean };
/** Somebody who sits down, with nothing on. `away`: at another station. */
export const newcomer = (): ModelSeat => ({ confirmed: new Set(), signedUntil: null, out: false, away: false });
export type StationModel = {
  steps: readonly CardStep[];
  items: readonly string[];
  seats: ModelSeat[];
  stopped: boolean;
  doneCount: number;
  /** The reading in force of the next step. */
  standing: { id: string; within: boolean; by: ModelSeat; second: boolean | null } | null;
  nowMs: number;
};

const SIGN_OFF_MS = 120 * 60_000;

export function passTime(model: StationModel, minutes: number): void {
  model.nowMs += minutes * 60_000;
  for (const seat of model.seats) {
    if (seat.signedUntil === null || model.nowMs < seat.signedUntil) continue;
    seat.signedUntil = null;
    seat.confirmed.clear();
  }
}

/** Whether an act at the step may count now: this is the promise under test. */
export function mayAct(model: StationModel, seat: ModelSeat, stepNo: number): boolean {
  const step = model.steps[model.doneCount];
  if (model.stopped || seat.out || seat.away || step?.no !== stepNo) return false;
  const there = model.seats.filter((each) => !each.out && !each.away);
  return !step.caustic || there.every((each) => each.signedUntil !== null);
}

export function mayFinish(model: StationModel, seat: ModelSeat, stepNo: number): boolean {
  if (!mayAct(model, seat, stepNo)) return false;
  const { kind } = model.steps[model.doneCount]!;
  if (kind === 'label') return false;
  if (kind !== 'weigh' && kind !== 'temperature') return true;
  return model.standing?.within === true && (!weighsLye(model) || model.standing.second === true);
}

const weighsLye = (model: StationModel): boolean => ['naoh', 'koh'].includes(model.steps[model.doneCount]?.lineKey ?? '');
/** Whether a second reading may count now: by whom does not enter here. `seat` is null for staff. */
export function mayCheck(model: StationModel, seat: ModelSeat | null, readingId: string): boolean {
  const { standing } = model;
  const there = seat ?? model.seats.find((each) => !each.out && !each.away);
  const no = model.steps[model.doneCount]?.no ?? 0;
  return there !== undefined && mayAct(model, there, no) && weighsLye(model) && standing?.id === readingId && standing.within && standing.second === null;
}

export function finishStep(model: StationModel): void {
  model.doneCount += 1;
  model.standing = null;
}

/** A second person signs: true when it counts. */
export function sign(model: StationModel, seat: ModelSeat): boolean {
  if (seat.out || !model.items.every((item) => seat.confirmed.has(item))) return false;
  seat.signedUntil ??= model.nowMs + SIGN_OFF_MS;
  return true;
}
export function endSignOff(seat: ModelSeat): void {
  seat.signedUntil = null;
  seat.confirmed.clear();
}
