import { expect, test } from 'vitest';
import type { Weighing } from './material-balance.ts';
import { balanceUncertaintyMg, unaccountedMass } from './material-balance.ts';
import { codesOf, valueOf } from './testing.ts';

const weighing = (massMg: number, sign: 1 | -1, scaleKey?: string): Weighing =>
  scaleKey === undefined ? { stepMg: 1000, massMg, sign } : { stepMg: 1000, massMg, sign, scaleKey };

test('MUF = PB + X - Y - PE (IAEA Safeguards Glossary)', () => {
  const balance = valueOf(
    unaccountedMass({ openingMg: 5_000_000, receiptsMg: 1_000_000, removalsMg: 2_500_000, countedMg: 3_490_000, weighings: [weighing(3_490_000, -1)] }),
  );
  expect(balance.bookMg).toBe(3_500_000);
  expect(balance.unaccountedMg).toBe(10_000);
});

test('one weighing on a 1 g step: 0.29 g of rounding (JCGM 100, F.2.2.1) and a limit of 1 g over root 3', () => {
  const byHand = Math.hypot(0.2887, 1 / Math.sqrt(3)) * 1000;
  expect(Math.abs(balanceUncertaintyMg([weighing(100_000, 1)]) - byHand)).toBeLessThan(0.1);
});

test('two weighings on their own scales: root 2 times one', () => {
  const one = balanceUncertaintyMg([weighing(100_000, 1)]);
  expect(balanceUncertaintyMg([weighing(100_000, 1), weighing(100_000, -1)])).toBeCloseTo(one * Math.SQRT2, 6);
});

test('twenty removals on one scale do not average its error out', () => {
  const removals = Array.from({ length: 20 }, () => weighing(100_000, -1, 'bench'));
  expect(balanceUncertaintyMg(removals)).toBeCloseTo(Math.hypot(20 * (1000 / Math.sqrt(3)), Math.sqrt(20) * (1000 / Math.sqrt(12))), 6);
});

test('weighings alike, told as one with their number, leave the same in doubt', () => {
  const alike = Array.from({ length: 20 }, () => [weighing(100_000, -1, 'bench'), weighing(250_000, 1)]).flat();
  const told = [
    { ...weighing(100_000, -1, 'bench'), times: 20 },
    { ...weighing(250_000, 1), times: 20 },
  ];
  expect(balanceUncertaintyMg(told)).toBeCloseTo(balanceUncertaintyMg(alike), 6);
});

test.each([0, -1, 1.5, NaN])('weighed %s times is refused', (times) => {
  const input = { openingMg: 0, receiptsMg: 0, removalsMg: 0, countedMg: 0, weighings: [{ stepMg: 1000, massMg: 1, sign: 1 as const, times }] };
  expect(codesOf(unaccountedMass(input))).toEqual(['value-out-of-range /weighings/0/times']);
});

test('tare and gross on one scale leave only rounding, root 2 times 0.2887 steps (EURACHEM QUAM)', () => {
  const pair = [weighing(400_000, 1, 'bench'), weighing(300_000, -1, 'bench')];
  expect(balanceUncertaintyMg(pair)).toBeCloseTo(Math.SQRT2 * 288.675, 2);
});

test.each([
  [0, 'agrees'],
  [1_200, 'agrees'],
  [1_500, 'unclear'],
  [2_500, 'does not agree'],
  [-2_500, 'does not agree'],
] as const)('a difference of %d mg with u = 645 mg: %s', (missingMg, verdict) => {
  const balance = valueOf(
    unaccountedMass({ openingMg: 100_000, receiptsMg: 0, removalsMg: 0, countedMg: 100_000 - missingMg, weighings: [weighing(100_000, 1)] }),
  );
  expect(balance.verdict).toBe(verdict);
  expect(balance.standardUncertaintyMg).toBeCloseTo(645.5, 1);
});

test('without weighings a loss cannot pass as agreement', () => {
  const balance = valueOf(unaccountedMass({ openingMg: 100_000, receiptsMg: 0, removalsMg: 0, countedMg: 99_000, weighings: [] }));
  expect(balance.ratio).toBeNull();
  expect(balance.verdict).toBe('does not agree');
  expect(balance.words).toBe('1\u00a0g are missing (no weighing gives an uncertainty): the book does not agree with the shelf.');
});

test('negative, fractional and unreadable masses are refused, each with its pointer', () => {
  const refused = unaccountedMass({ openingMg: -1, receiptsMg: 0.5, removalsMg: NaN, countedMg: 0, weighings: [{ stepMg: 0, massMg: 1, sign: 1 }] });
  expect(codesOf(refused)).toEqual([
    'value-out-of-range /openingMg',
    'value-out-of-range /receiptsMg',
    'value-out-of-range /removalsMg',
    'value-out-of-range /weighings/0/stepMg',
  ]);
});

test.each([0, 2, NaN])('a weighing adds or takes: a sign of %d is refused', (sign) => {
  const input = { openingMg: 0, receiptsMg: 0, removalsMg: 0, countedMg: 0, weighings: [{ stepMg: 1000, massMg: 1, sign: sign as 1 }] };
  expect(codesOf(unaccountedMass(input))).toEqual(['value-out-of-range /weighings/0/sign']);
});

test('words: equal, missing, more than the book; the uncertainty is rounded up to 10 mg', () => {
  const words = (countedMg: number): string =>
    valueOf(unaccountedMass({ openingMg: 100_000, receiptsMg: 0, removalsMg: 0, countedMg, weighings: [weighing(100_000, 1)] })).words;
  expect(words(100_000)).toBe('Book and count are equal (standard uncertainty 0.65\u00a0g): the book agrees with the shelf.');
  expect(words(98_500)).toBe('1.5\u00a0g are missing (standard uncertainty 0.65\u00a0g): unclear, count again.');
  expect(words(103_000)).toBe('3\u00a0g are more than the book says (standard uncertainty 0.65\u00a0g): the book does not agree with the shelf.');
});
