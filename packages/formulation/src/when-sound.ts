import type { NumberRule } from './check-number.ts';
import { checkNumber } from './check-number.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { refuse, succeed } from './outcome.ts';

/** Works a value out only when its inputs are sound; else hands back every problem. */
export function whenSound<T>(problems: FormulationProblem[], value: () => T): Outcome<T> {
  return problems.length > 0 ? refuse(problems) : succeed(value());
}

/** The most a pot or batch of a studio holds, mg: one tonne. More is a slip of the finger. */
const MOST_MG = 1_000_000_000;

/** A mass in mg at its pointer; `least` 0 lets a part be absent. */
export function checkMass(massMg: number, pointer: string, name: string, least = 0): FormulationProblem[] {
  return checkNumber(massMg, pointer, { name, unit: 'mg', min: least, max: MOST_MG });
}

/** A temperature in C; wide enough for a freezer and for boiling lye. */
export function checkTemperature(temperatureC: number, pointer: string, name: string, range: Pick<NumberRule, 'min' | 'max'> = { min: -40, max: 160 }) {
  return checkNumber(temperatureC, pointer, { name, unit: '°C', ...range });
}

/** A share in percent, 0 to 100 unless said otherwise. */
export function checkPercent(percent: number, pointer: string, name: string, range: Pick<NumberRule, 'min' | 'max'> = { min: 0, max: 100 }) {
  return checkNumber(percent, pointer, { name, unit: '%', ...range });
}
