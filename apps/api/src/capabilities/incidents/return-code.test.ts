import { expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { returnCodeOf, returnHashOf } from './return-code.ts';

test('the same id gives the same code, however it is written, and another id another', () => {
  const id = newId();
  expect(returnCodeOf(id)).toBe(returnCodeOf(id.toUpperCase()));
  expect(returnCodeOf(id)).not.toBe(returnCodeOf(newId()));
});

test('a code has ten signs that nobody confuses, each about equally likely', () => {
  const seen = new Map<string, number>();
  for (let n = 0; n < 4000; n += 1) {
    const code = returnCodeOf(newId(n));
    expect(code).toMatch(/^[ACDEFGHJKMNPQRTWXY34679]{10}$/);
    for (const sign of code) seen.set(sign, (seen.get(sign) ?? 0) + 1);
  }
  // chi-squared with 22 degrees of freedom exceeds 60 once in 40 000 runs (tables of the distribution)
  const expected = 40_000 / 23;
  const chiSquared = [...seen.values()].reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  expect(seen.size).toBe(23);
  expect(chiSquared).toBeLessThan(60);
});

// FIPS 180-4 example: SHA-256 of "abc"
test('what is stored is the SHA-256 of the code', () => {
  expect(returnHashOf('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
});
