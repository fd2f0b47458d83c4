import { readDecimal } from './decimal.ts';
import type { Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';

/** Units a mass may be typed in. All are exact: the pound is 453.59237 g (NIST Handbook 44, App. C). */
export type MassUnit = 'g' | 'kg' | 'mg' | 'oz' | 'lb';

/** One unit as a fraction of a milligram: `times` / `over`, whole numbers, so that no digit is lost. */
const MG_PER: Record<MassUnit, { times: bigint; over: bigint }> = {
  mg: { times: 1n, over: 1n },
  g: { times: 1_000n, over: 1n },
  kg: { times: 1_000_000n, over: 1n },
  oz: { times: 28_349_523_125n, over: 1_000_000n },
  lb: { times: 45_359_237n, over: 100n },
};

/** One tonne. Larger numbers are slips of the finger in a studio. */
const LARGEST_MG = 1_000_000_000;

/** No mass needs more characters; a cut-off keeps the pattern below cheap on pasted text. */
const LONGEST = 64;

/** The unit at the end of what was typed, if there is one, in any case. */
function unitIn(text: string): { number: string; unit: MassUnit | null } {
  if (text.length > LONGEST) return { number: text, unit: null };
  const match = /^(.*?)[\s\u00a0\u2009\u202f]*(mg|kg|g|oz|lb)$/iu.exec(text.trim());
  if (!match) return { number: text, unit: null };
  return { number: match[1] ?? '', unit: (match[2] ?? '').toLowerCase() as MassUnit };
}

/**
 * A typed mass as whole milligrams. A unit in the text wins over `unit` (default g). Metric masses
 * finer than a milligram are refused rather than rounded; ounces and pounds are converted exactly
 * and rounded to the nearest milligram.
 */
export function parseMass(text: string, unit: MassUnit = 'g'): Outcome<{ massMg: number }> {
  const typed = unitIn(text);
  const used = typed.unit ?? unit;
  const decimal = readDecimal(typed.number, 'The mass');
  if (!decimal.ok) return decimal;
  const factor = MG_PER[used];
  const scaled = BigInt(decimal.value.digits) * factor.times;
  const divisor = factor.over * 10n ** BigInt(decimal.value.decimals);
  if (scaled % divisor !== 0n && used !== 'oz' && used !== 'lb') {
    const detail = `"${text.trim()}" is finer than one milligram; a mass in ${used} takes at most ${used === 'mg' ? 0 : used === 'g' ? 3 : 6} decimals.`;
    return refuse([problem('number-unreadable', '', detail)]);
  }
  const massMg = Number((scaled * 2n + divisor) / (divisor * 2n));
  if (massMg > LARGEST_MG) {
    const detail = `"${text.trim()}" is more than a tonne; check the number and its unit (${used}).`;
    return refuse([problem('value-out-of-range', '', detail)]);
  }
  return succeed({ massMg });
}

/** Bounds are included; `maxDecimals` stops precision that nobody measured. */
export type DecimalRule = { name: string; min: number; max: number; maxDecimals: number };

/**
 * A typed plain number within a rule; `name` begins the sentence, e.g. "The lye concentration". A
 * percent sign at the end is let pass, and a minus sign in front where the rule goes below zero.
 */
export function parseDecimal(text: string, rule: DecimalRule): Outcome<{ value: number }> {
  const plain = text.trim().replace(/\s?%$/u, '');
  const negative = rule.min < 0 && /^[-\u2212]\s?\d/u.test(plain);
  const decimal = readDecimal(negative ? plain.slice(1) : plain, rule.name);
  if (!decimal.ok) return decimal;
  const { digits, decimals } = decimal.value;
  if (decimals > rule.maxDecimals) {
    const detail = `${rule.name} has ${decimals} decimals; use at most ${rule.maxDecimals}.`;
    return refuse([problem('number-unreadable', '', detail)]);
  }
  const whole = digits.slice(0, digits.length - decimals) || '0';
  const size = Number(decimals > 0 ? `${whole}.${digits.slice(-decimals)}` : whole);
  const value = negative && size > 0 ? -size : size;
  if (value < rule.min || value > rule.max) {
    const detail = `${rule.name} is ${value}; it must be from ${rule.min} to ${rule.max}.`;
    return refuse([problem('value-out-of-range', '', detail, { value, min: rule.min, max: rule.max })]);
  }
  return succeed({ value });
}

/** No-break space before the unit and thin space (no-break) between thousands: ISO 80000-1, 7.3. */
const NO_BREAK = '\u00a0';
const THOUSANDS = '\u202f';

/**
 * A mass for people, in grams without trailing zeros: "141 g", "0.5 g", "1 234 g". With `stepMg` it
 * shows as many decimals as that scale does, so a card reads like the display: "141.0 g" on 0.1 g.
 */
export function formatMass(massMg: number, stepMg?: number): string {
  if (!Number.isFinite(massMg)) return `?${NO_BREAK}g`;
  const rounded = Math.round(Math.abs(massMg));
  const whole = String(Math.floor(rounded / 1000)).replace(/\B(?=(?:\d{3})+$)/gu, THOUSANDS);
  const shown = decimalsOfStep(stepMg);
  const fraction = String(rounded % 1000)
    .padStart(3, '0')
    .replace(/0+$/u, '')
    .padEnd(shown, '0');
  const sign = massMg < 0 && rounded > 0 ? '\u2212' : '';
  return `${sign}${whole}${fraction ? `.${fraction}` : ''}${NO_BREAK}g`;
}

/** Decimals, in grams, that a display with this step shows. */
function decimalsOfStep(stepMg: number | undefined): number {
  if (stepMg === undefined || !Number.isFinite(stepMg) || stepMg % 1000 === 0) return 0;
  if (stepMg % 100 === 0) return 1;
  return stepMg % 10 === 0 ? 2 : 3;
}
