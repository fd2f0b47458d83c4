import { checkNumber } from './check-number.ts';
import type { FormulationProblem, Interval } from './outcome.ts';
import { problem } from './outcome.ts';
import type { ScaleOf } from './plan-lines.ts';
import type { Line, Purity, RecipeInput } from './recipe.ts';
import { errorLimitMg } from './scale-error.ts';
import { bandInput } from './figures.ts';
import { superfatBand } from './superfat-band.ts';
import type { PlanLine } from './weigh-line.ts';
import { trueMassOf } from './weigh-line.ts';

/**
 * One reading that was made, mg. `mixed` means it is in the pot (fat in the fats, alkali in the
 * liquid) and cannot be taken out any more; otherwise it still stands in its own cup. Several
 * readings of one line, as after an addition, add up.
 */
export type MadeReading = { key: string; readingMg: number; mixed?: boolean };

/** What the true mass behind readings on one scale can be, mg: every reading wrong by its own limit. */
export function massRead(readingsMg: readonly number[], scale: Parameters<typeof errorLimitMg>[0]): Interval {
  const low = readingsMg.reduce((sum, reading) => sum + Math.max(0, reading - errorLimitMg(scale, reading)), 0);
  const nominal = readingsMg.reduce((sum, reading) => sum + reading, 0);
  const high = readingsMg.reduce((sum, reading) => sum + reading + errorLimitMg(scale, reading), 0);
  return { low, nominal, high };
}

export function plus(a: Interval, b: Interval): Interval {
  return { low: a.low + b.low, nominal: a.nominal + b.nominal, high: a.high + b.high };
}

/** Where a line stands: not weighed, in its cup, in the pot, or left out for good; the true mass it has or is planned to have. */
export type LineState = { line: PlanLine; where: 'not weighed' | 'cup' | 'pot' | 'left out'; mass: Interval };

/** A line with both mixed and unmixed readings counts as in the pot: what is added to it cannot come out. */
export function lineStates(lines: readonly PlanLine[], readings: readonly MadeReading[], scaleOf: ScaleOf): LineState[] {
  return lines.map((line) => {
    const made = readings.filter((reading) => reading.key === line.key);
    const scale = scaleOf(line.kind);
    if (made.length === 0) return { line, where: 'not weighed', mass: trueMassOf(line, scale) };
    const where = made.some((reading) => reading.mixed) ? 'pot' : 'cup';
    const readingsMg = made.map((reading) => reading.readingMg);
    return { line, where, mass: massRead(readingsMg, scale) };
  });
}

/** Superfat band when every line has any mass in its range, percent. */
export function bandOf(recipe: RecipeInput, purity: Purity, states: readonly Pick<LineState, 'line' | 'mass'>[]): Interval {
  const masses = new Map(states.map((state) => [state.line.key, state.mass]));
  const lines: Line[] = states.map((state) => state.line);
  return superfatBand(bandInput(recipe, purity, lines, (line) => masses.get(line.key) ?? { low: 0, nominal: 0, high: 0 }));
}

const LINE_MASSES = ['massMg', 'exactMg', 'targetMg', 'acceptLowMg', 'acceptHighMg'] as const;

/** The figures of a plan are ours, but a stored card may have lost one on its way: a line is whole, or nothing is worked out. */
function checkLine(line: PlanLine, index: number): FormulationProblem[] {
  const mass = { name: `A mass of ${line.name} on the plan`, unit: 'mg', min: 0, max: 1_000_000_000 };
  return [
    ...LINE_MASSES.flatMap((key) => checkNumber(line[key], `/lines/${index}/${key}`, mass)),
    ...checkNumber(line.stepMg, `/lines/${index}/stepMg`, { ...mass, name: `The scale step of ${line.name}`, min: 1, max: 100_000 }),
  ];
}

/** Whole lines, and each reading a mass of one of them: a stray one could hide alkali from the sum. */
export function checkReadings(lines: readonly PlanLine[], readings: readonly MadeReading[]): FormulationProblem[] {
  const unsound = lines.flatMap(checkLine);
  if (unsound.length > 0) return unsound;
  return readings.flatMap((reading, index) => {
    const pointer = `/readings/${index}`;
    if (!lines.some((line) => line.key === reading.key)) {
      return [problem('value-out-of-range', `${pointer}/key`, `There is no line "${reading.key}" on the plan.`, { key: reading.key })];
    }
    return checkNumber(reading.readingMg, `${pointer}/readingMg`, { name: 'The reading', unit: 'mg', min: 0, max: 1_000_000_000 });
  });
}
