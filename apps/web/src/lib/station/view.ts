import type { CardContent, CardStep, ReadingOut, StationView } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';

/** The reading that counts for a step: the newest that no other replaced. */
export function standingReading(view: StationView, stepNo: number): ReadingOut | null {
  return view.readings.filter((reading) => reading.stepNo === stepNo && !reading.superseded).at(-1) ?? null;
}

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
