import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';

/**
 * A decimal number typed by a person, kept as digits: `units` times ten to the power -`decimals`.
 * Masses never pass through floating point on their way in, so 0.1 g is 100 mg exactly.
 */
export type TypedDecimal = { digits: string; decimals: number };

/** More digits than any mass or share needs. */
const LONGEST = 24;

/** Spaces people and programs put between thousands: space, no-break, thin and narrow no-break. */
const SPACES = /[\s\u00a0\u2009\u202f]/gu;

function bad(code: FormulationProblem['code'], pointer: string, detail: string, text: string) {
  return refuse([problem(code, pointer, detail, { text })]);
}

/**
 * Reads "131", "131.5", "131,5", "1 234.5". A point is always a decimal point. A comma followed by
 * exactly three digits could be a decimal or a thousands sign, so it is refused, as are two signs.
 * Signs, exponents and words are refused. A blank is a missing value, never zero.
 * @param name how to call the value in a sentence, e.g. "The mass"
 */
export function readDecimal(text: string, name: string, pointer = ''): Outcome<TypedDecimal> {
  const trimmed = text.slice(0, LONGEST + 1).trim();
  if (trimmed.length > LONGEST) return bad('number-unreadable', pointer, `${name} is too long to be a number.`, trimmed);
  if (trimmed === '') return bad('value-missing', pointer, `${name} is blank; enter a number.`, text);
  if (/^[-\u2212]/u.test(trimmed)) {
    return bad('value-out-of-range', pointer, `${name} is negative (${trimmed}); enter a number from 0 up.`, text);
  }
  const grouped = /^\d{1,3}(?:[\s\u00a0\u2009\u202f]\d{3})+(?:[.,]\d+)?$/u.test(trimmed);
  const compact = grouped ? trimmed.replace(SPACES, '') : trimmed;
  if ((compact.match(/[.,]/gu) ?? []).length > 1 && /^[\d.,]+$/u.test(compact)) {
    return bad('number-ambiguous', pointer, `"${trimmed}" has more than one decimal sign; write it with one point, like 1234.5.`, text);
  }
  const match = /^(\d+)(?:([.,])(\d+))?$/u.exec(compact);
  if (!match) {
    return bad('number-unreadable', pointer, `"${trimmed}" is not a number; write it like 131.5.`, text);
  }
  const [, whole = '', sign, fraction = ''] = match;
  if (sign === ',' && fraction.length === 3) {
    return bad(
      'number-ambiguous',
      pointer,
      `"${trimmed}" can mean ${whole}${fraction} or ${whole}.${fraction}; write ${whole}${fraction} or ${whole}.${fraction}.`,
      text,
    );
  }
  return succeed({ digits: whole + fraction, decimals: fraction.length });
}
