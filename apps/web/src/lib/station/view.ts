import type { CardContent, CardStep, ReadingOut, StationView } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';

/** The reading that counts for a step: the newest that no other replaced. */
export function standingReading(view: StationView, stepNo: number): ReadingOut | null {
  return view.readings.filter((reading) => reading.stepNo === stepNo && !reading.superseded).at(-1) ?? null;
}

/** Within its range, and read by a second person where that is needed. */
export const isGood = ({ verdict, second }: ReadingOut): boolean => verdict === 'within' && second !== 'needed' && second !== 'disagrees';

export const stepOf = (view: StationView, no: number): CardStep | undefined => view.card.content.steps.find((step) => step.no === no);
export const doneAs = (view: StationView, no: number) => view.done.find((done) => done.stepNo === no);

/** Where this station goes on: the current step, or leaving when none is left. */
export const nextPath = (view: Pick<StationView, 'currentStepNo'>): string =>
  view.currentStepNo === null ? '/station/finish' : `/station/step/${view.currentStepNo}`;

/** A temperature with its unit, never parted: "43.5 °C". */
export const formatTemperature = (celsius: number): string => `${Math.round(celsius * 10) / 10}\u00a0°C`;

/** The scale step of the line a step weighs, in milligrams; the station's own where the step weighs nothing. */
export function stepMgOf(content: CardContent, step: CardStep): number {
  return content.lines.find((line) => line.key === step.lineKey)?.stepMg ?? content.scaleStepMg;
}

/** What was read, as the instrument shows it. */
export const shownReading = (reading: ReadingOut, stepMg: number): string =>
  reading.massMg === null ? formatTemperature(reading.temperatureC ?? Number.NaN) : formatMass(reading.massMg, stepMg);

/** Steps that a change of the card put in carry numbers from here on; people know them by what they say. */
const ADDED_FROM = 101;
/** "Step 4", or "Added step" for one that the instructor put in. */
export const stepName = (no: number): string => (no >= ADDED_FROM ? 'Added step' : `Step ${no}`);

/** The last change of the card that a step shows: about it, or giving what it weighs another target. An earlier one is history. */
export const changesAt = (view: Pick<StationView, 'card'>, step: Pick<CardStep, 'no' | 'lineKey'>) =>
  view.card.changes
    .filter((change) => change.stepNo === step.no || (step.no >= ADDED_FROM && step.lineKey === null) || change.lines.some((line) => line.key === step.lineKey))
    .slice(-1);

/** Whether the instructor can be asked what else can be done: a mass off target that is not in a cup of its own. */
export const mayAsk = (view: Pick<StationView, 'card'>, step: CardStep, reading: ReadingOut | null): boolean =>
  step.kind === 'weigh' &&
  reading !== null &&
  reading.verdict !== 'within' &&
  view.card.content.lines.find((line) => line.key === step.lineKey)?.kind !== 'additive';
