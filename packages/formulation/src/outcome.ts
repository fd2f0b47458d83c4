/**
 * How every function of this package answers.
 *
 * Glossary: an *outcome* is either a value or a list of problems; a *problem* tells one person one
 * thing to change; an *interval* is a worst-case range around a nominal value. Nothing here throws
 * for bad input and nothing returns NaN.
 */

/** The kinds of problem. A code is stable; the sentence beside it may be reworded. */
export type FormulationCode =
  | 'fats-do-not-sum'
  | 'fat-unknown'
  | 'fat-twice'
  | 'liquid-unknown'
  | 'liquid-twice'
  | 'value-missing'
  | 'value-out-of-range'
  | 'concentration-past-solubility'
  | 'ice-over-water'
  | 'superfat-band-below-floor'
  | 'scale-step-too-coarse'
  | 'over-scale-capacity'
  | 'number-ambiguous'
  | 'number-unreadable'
  | 'additive-over-limit';

/**
 * One thing to change. `pointer` is a JSON pointer (RFC 6901) into the input, e.g.
 * "/fats/0/sharePercent"; `detail` is a whole sentence with the figures in it.
 */
export type FormulationProblem = {
  code: FormulationCode;
  pointer: string;
  detail: string;
  fields?: Record<string, number | string>;
};

/** A value, or every problem found (never only the first). */
export type Outcome<T> = { ok: true; value: T } | { ok: false; problems: FormulationProblem[] };

/** A worst-case range: low <= nominal <= high, all in the unit its field name ends with. */
export type Interval = { low: number; nominal: number; high: number };

export function succeed<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function refuse(problems: FormulationProblem[]): { ok: false; problems: FormulationProblem[] } {
  return { ok: false, problems };
}

/** Builds one problem; `fields` is left out when empty so that equal problems compare equal. */
export function problem(code: FormulationCode, pointer: string, detail: string, fields?: Record<string, number | string>): FormulationProblem {
  return fields ? { code, pointer, detail, fields } : { code, pointer, detail };
}
