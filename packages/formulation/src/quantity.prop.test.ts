import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { formatMass, parseMass } from './quantity.ts';
import { codesOf, valueOf } from './testing.ts';

const massMg = fc.integer({ min: 0, max: 1_000_000_000 });

test.prop([massMg, fc.constantFrom(undefined, 1, 100, 1000)])('what is formatted is read back as the same mass', (mass, step) => {
  expect(valueOf(parseMass(formatMass(mass, step)))).toEqual({ massMg: mass });
});

test.prop([massMg])('a comma or a point, the mass is the same, save three decimals', (mass) => {
  const text = formatMass(mass);
  const comma = text.replace('.', ',');
  if (/,\d{3}\u00a0/u.test(comma)) expect(codesOf(parseMass(comma))).toEqual(['number-ambiguous ']);
  else expect(valueOf(parseMass(comma))).toEqual({ massMg: mass });
});

test.prop([fc.string()])('any text gives a whole number of mg from 0 up, or a refusal with a sentence', (text) => {
  const parsed = parseMass(text);
  if (parsed.ok) {
    expect(Number.isSafeInteger(parsed.value.massMg)).toBe(true);
    expect(parsed.value.massMg).toBeGreaterThanOrEqual(0);
    expect(/\d/u.test(text)).toBe(true);
  } else {
    expect(parsed.problems[0]?.detail.endsWith('.')).toBe(true);
  }
});
