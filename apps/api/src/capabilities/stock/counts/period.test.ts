import { expect, test } from 'vitest';
import { balanceOfPeriod } from './period.ts';
import type { Watched } from './period.ts';

const on = (massMg: number) => ({ massMg, stepMg: 1000, scaleKey: 'counter' });
const bottle = (over: Partial<Watched> = {}): Watched => ({
  id: 'A',
  opening: { countId: 'c1', netMg: 816_000, weighing: on(1_066_000) },
  moves: [
    { sign: -1, massMg: 300_000, weighing: on(300_000) },
    { sign: 1, massMg: 100_000, weighing: on(100_000) },
    { sign: -1, massMg: 10_000, weighing: null },
  ],
  closing: { countId: 'c2', netMg: 604_000, weighing: on(854_000) },
  ...over,
});

/*
 * MUF = PB + X - Y - PE (IAEA Safeguards Glossary) = 816 + 100 - 310 - 604 = 2 g. Figures our own. JCGM 100: four roundings of 1 g leave sqrt(4/12) g; the scale
 * leans the same way each time, by its limits of 2, 1, 1 and 2 g over the square root of 3 (OIML R 76-1, class III in service): 2 - 1 + 1 - 2 = 0.
 */
test('the opening is what the last count found, and the error is that of the weighings in the period', () => {
  const { balance, row } = balanceOfPeriod('c2', [bottle()]);
  expect(balance).toMatchObject({ bookMg: 606_000, unaccountedMg: 2000 });
  expect(balance.standardUncertaintyMg).toBeCloseTo(1000 * Math.sqrt(4 / 12), 6);
  expect(row.unaccountedMg).toBe(2000);
  expect(row.errors['weighed:c1:A']).toBeCloseTo(1000 / Math.sqrt(12), 9);
  expect(row.errors['weighed:c2:A']).toBeCloseTo(-1000 / Math.sqrt(12), 9);
  expect(row.errors['own:c2']).toBeCloseTo(1000 * Math.sqrt(2 / 12), 9);
  expect(row.errors['scale:counter']).toBeCloseTo(0, 9);
});

test('the linear form has the standard uncertainty that the balance states', () => {
  const watched = [bottle(), bottle({ id: 'B', opening: null, moves: [{ sign: 1, massMg: 5_000_000, weighing: { ...on(5_250_000), scaleKey: 'floor' } }] })];
  const { balance, row } = balanceOfPeriod('c2', watched);
  expect(Math.hypot(...Object.values(row.errors))).toBeCloseTo(balance.standardUncertaintyMg, 6);
  expect(balance.standardUncertaintyMg).toBeGreaterThan(1000);
});
