import type { CardStep } from '@ashwater/contracts';

/**
 * What a station should allow, told a second time and in the plainest way: the oracle of the property test.
 * It knows nothing of the service's code; times are milliseconds.
 */
export type ModelSeat = {
  confirmed: Set<string>;
  signedUntil: number | null;
  /** Whether the gear was ever signed for the card in force at the station. */
  ever: boolean;
  out: boolean;
  away: boolean;
  /** The instructor's own seat. */
  own: boolean;
};
/** Somebody who sits down, with nothing on. `away`: at another station. */
export const newcomer = (more: { own?: boolean; away?: boolean } = {}): ModelSeat => ({
  confirmed: new Set(),
  signedUntil: null,
  ever: false,
  out: false,
  away: false,
  own: false,
  ...more,
});
export type Standing = { id: string; entered: string; within: boolean; by: ModelSeat | 'assistant'; second: boolean | null };
export type StationModel = {
  /** The steps of the card in force, with every change in it. */
  steps: readonly CardStep[];
  items: readonly string[];
  seats: ModelSeat[];
  stopped: boolean;
  over: 'closed' | 'cancelled' | null;
  done: Set<number>;
  /** Whether caustic was read or done on the card in force. */
  touched: boolean;
  /** The reading in force of the next step. */
  standing: Standing | null;
  nowMs: number;
};
export const newStation = (steps: readonly CardStep[], items: readonly string[], nowMs: number): StationModel => ({
  ...{ steps, items, seats: [], stopped: false, over: null, done: new Set(), touched: false, standing: null, nowMs },
});

const SIGN_OFF_MS = 120 * 60_000;

export function passTime(model: StationModel, minutes: number): void {
  model.nowMs += minutes * 60_000;
  for (const seat of model.seats) if (seat.signedUntil !== null && model.nowMs >= seat.signedUntil) endSignOff(seat);
}

export const nextStep = (model: StationModel): CardStep | undefined => model.steps.find((step) => !model.done.has(step.no));
const there = (model: StationModel): ModelSeat[] => model.seats.filter((each) => !each.out && !each.away);

/** Whether an act at the step may count now: this is the promise under test. */
export function mayAct(model: StationModel, seat: ModelSeat, stepNo: number): boolean {
  const step = nextStep(model);
  if (model.stopped || model.over || seat.out || seat.away || step?.no !== stepNo) return false;
  return !step.caustic || there(model).every((each) => each.signedUntil !== null);
}
/** The same for what is entered from paper: a closed class still takes it, and the sign-off only has to be on record. */
export function mayEnter(model: StationModel, stepNo: number): boolean {
  const step = nextStep(model);
  if (model.stopped || model.over === 'cancelled' || step?.no !== stepNo) return false;
  const here = model.seats.filter((each) => !each.away);
  return !step.caustic || (here.some((each) => each.ever) && here.every((each) => each.ever || each.out));
}

export const takesReading = (step: CardStep): boolean => step.kind === 'weigh' || step.kind === 'temperature';
export function isWithin(step: CardStep, entered: string): boolean {
  const value = Number(entered);
  const [low, high] = step.kind === 'weigh' ? [(step.acceptLowMg ?? 0) / 1000, (step.acceptHighMg ?? 0) / 1000] : [step.lowC ?? 0, step.highC ?? 0];
  return low <= value && value <= high;
}
export const weighsLye = (step: CardStep | undefined): boolean => ['naoh', 'koh'].includes(step?.lineKey ?? '');

/** Whether what the next step asks for is there. */
export function isComplete(model: StationModel): boolean {
  const step = nextStep(model)!;
  if (step.kind === 'label') return false;
  return !takesReading(step) || (model.standing?.within === true && (!weighsLye(step) || model.standing.second === true));
}
export const mayFinish = (model: StationModel, seat: ModelSeat, stepNo: number): boolean => mayAct(model, seat, stepNo) && isComplete(model);

/** Whether a second reading may count now: by whom does not enter here. `seat` is null for staff. */
export function mayCheck(model: StationModel, seat: ModelSeat | null, readingId: string): boolean {
  const { standing } = model;
  const by = seat ?? there(model)[0];
  const step = nextStep(model);
  return !!by && !!step && mayAct(model, by, step.no) && weighsLye(step) && standing?.id === readingId && standing.within && standing.second === null;
}

/** Whether the card may be changed now, as far as the room and the step go. */
export function isStray(model: StationModel): boolean {
  return nextStep(model)?.kind === 'weigh' && model.standing !== null && !model.standing.within;
}

export function addReading(model: StationModel, reading: Omit<Standing, 'within' | 'second'>): void {
  const step = nextStep(model)!;
  model.standing = { ...reading, within: isWithin(step, reading.entered), second: null };
  model.touched ||= step.caustic;
}
export function finishStep(model: StationModel): void {
  const step = nextStep(model)!;
  model.done.add(step.no);
  model.touched ||= step.caustic;
  model.standing = null;
}

/** The card as an approved change leaves it. What is in the pot is not weighed a second time. */
export function changeSteps(model: StationModel, steps: readonly CardStep[], mixed: boolean): void {
  const before = nextStep(model)?.no;
  model.steps = steps;
  const step = nextStep(model);
  if (!model.standing || step?.no !== before || !step) model.standing = null;
  else Object.assign(model.standing, { within: isWithin(step, model.standing.entered), second: mixed ? true : model.standing.second });
}
/** A new issue of the card: everything begins again for it. */
export function newIssue(model: StationModel, steps: readonly CardStep[]): void {
  Object.assign(model, { steps, done: new Set(), touched: false, standing: null });
  for (const seat of model.seats) {
    seat.ever = false;
    if (!seat.away) endSignOff(seat);
  }
}

/** A second person signs: true when it counts. `own` says whether the instructor does. */
export function sign(model: StationModel, seat: ModelSeat, byInstructor: boolean): boolean {
  if (seat.out || (seat.own && byInstructor) || !model.items.every((item) => seat.confirmed.has(item))) return false;
  seat.signedUntil ??= model.nowMs + SIGN_OFF_MS;
  seat.ever ||= !seat.away;
  return true;
}
export function endSignOff(seat: ModelSeat): void {
  seat.signedUntil = null;
  seat.confirmed.clear();
}
