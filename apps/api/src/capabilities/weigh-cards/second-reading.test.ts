import { expect, test } from 'vitest';
import { readingsAgree, sameName } from './second-reading.ts';

test('two readings agree up to one step of the scale, and not a milligram further', () => {
  for (const stepMg of [100, 1000, 2835]) {
    expect(readingsAgree(141_000, 141_000, stepMg)).toBe(true);
    expect(readingsAgree(141_000, 141_000 + stepMg, stepMg)).toBe(true);
    expect(readingsAgree(141_000, 141_000 - stepMg, stepMg)).toBe(true);
    expect(readingsAgree(141_000, 141_000 + stepMg + 1, stepMg)).toBe(false);
    expect(readingsAgree(141_000, 141_000 - stepMg - 1, stepMg)).toBe(false);
  }
});

test('a name is the same however it is typed', () => {
  for (const typed of ['Mira', ' mira ', 'MIRA', 'Mira ']) expect(sameName('Mira', typed)).toBe(true);
  expect(sameName('Mira  K', 'mira k')).toBe(true);
  expect(sameName('Mira', 'Miran')).toBe(false);
});
