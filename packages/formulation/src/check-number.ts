import type { FormulationProblem, Interval } from './outcome.ts';
import { problem } from './outcome.ts';

/** How a value is called in a sentence, its unit ("%", "C", "g", "") and its allowed range. */
export type NumberRule = { name: string; unit: string; min: number; max: number };

function withUnit(value: number, unit: string): string {
  return unit === '' ? `${value}` : `${value} ${unit}`;
}

/**
 * Checks one number. A missing value is its own kind of problem, because a blank field must never
 * become zero; NaN and infinities are out of any range.
 *
 * Empty when the value is a finite number in range; else one problem that states both.
 */
export function checkNumber(value: number, pointer: string, rule: NumberRule): FormulationProblem[] {
  const range = `from ${withUnit(rule.min, rule.unit)} to ${withUnit(rule.max, rule.unit)}`;
  if (value === undefined || value === null) {
    return [problem('value-missing', pointer, `${rule.name} is missing; enter a value ${range}.`)];
  }
  if (!Number.isFinite(value)) {
    return [problem('value-out-of-range', pointer, `${rule.name} is not a number; enter a value ${range}.`)];
  }
  if (value < rule.min || value > rule.max) {
    const detail = `${rule.name} is ${withUnit(value, rule.unit)}; it must be ${range}.`;
    return [problem('value-out-of-range', pointer, detail, { value, min: rule.min, max: rule.max })];
  }
  return [];
}

/**
 * Checks each end of an assay in mass percent and that low <= nominal <= high. Under 50 % it is a
 * solution or a slip, not a dry hydroxide; over 100 % it cannot be.
 */
export function checkAssay(assay: Interval, pointer: string, name: string): FormulationProblem[] {
  const problems = (['low', 'nominal', 'high'] as const).flatMap((end) =>
    checkNumber(assay[end], `${pointer}/${end}`, { name: `${name} (${end})`, unit: '%', min: 50, max: 100 }),
  );
  if (problems.length > 0) return problems;
  if (assay.low <= assay.nominal && assay.nominal <= assay.high) return [];
  const detail = `${name} must run from low to high, but is ${assay.low}, ${assay.nominal}, ${assay.high} %.`;
  return [problem('value-out-of-range', pointer, detail)];
}

/** A figure for a sentence: at most `decimals` decimals and no trailing zeros. */
export function figure(value: number, decimals = 2): string {
  return String(Number(value.toFixed(decimals)));
}
