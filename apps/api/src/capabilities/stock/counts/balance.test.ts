import { expect, test } from 'vitest';
import { balanceOf } from './balance.ts';

/*
 * MUF = PB + X - Y - PE (IAEA Safeguards Glossary): opening 0, received 1000 g and 120 g taken back, 300 g handed out,
 * 816 g found: 4 g unaccounted. The figures are our own. Uncertainty by JCGM 100: four weighings at a step of 1 g give
 * sqrt(4/12) g of rounding; the calibration limits of one scale (2 g above 500 g, 1 g below) cancel: +2 -1 +1 -2 = 0.
 */
const moved = { openingMg: 0, receiptsMg: 1_120_000, removalsMg: 300_000 };
const weighings = [
  { stepMg: 1000, massMg: 1_250_000, sign: 1 as const, scaleKey: 'counter' },
  { stepMg: 1000, massMg: 300_000, sign: -1 as const, scaleKey: 'counter' },
  { stepMg: 1000, massMg: 120_000, sign: 1 as const, scaleKey: 'counter' },
  { stepMg: 1000, massMg: 1_066_000, sign: -1 as const, scaleKey: 'counter' },
];
const counted = [{ label: 'A-1', bookMg: 820_000, netMg: 816_000 }];

test('the unaccounted mass is opening plus receipts minus removals minus count', () => {
  const result = balanceOf('NaOH', counted, moved, weighings, []);
  expect(result).toMatchObject({ bookMg: 820_000, countedMg: 816_000, unaccountedMg: 4_000, verdict: 'does not agree' });
  expect(result.standardUncertaintyMg).toBeCloseTo(1000 * Math.sqrt(4 / 12), 6);
});

test('containers left out of the count are named', () => {
  expect(balanceOf('NaOH', counted, moved, weighings, ['A-2', 'A-3']).words).toContain('Not weighed in this count: A-2, A-3.');
});

test('a balance that is not the sum of its ledger lines is never reported', () => {
  expect(() => balanceOf('NaOH', [{ ...counted[0]!, bookMg: 820_001 }], moved, weighings, [])).toThrow(
    'the ledger gives 820000 mg of NaOH, the balances 820001 mg',
  );
});

test('a correction moves the book and adds no doubt; a named scale of a finer class leaves less', () => {
  const corrected = balanceOf('NaOH', [{ ...counted[0]!, bookMg: 816_000 }], { ...moved, removalsMg: 304_000 }, weighings, []);
  expect(corrected).toMatchObject({ unaccountedMg: 0, verdict: 'agrees' });
  expect(corrected.standardUncertaintyMg).toBeCloseTo(1000 * Math.sqrt(4 / 12), 6);
  // By hand, one weighing alone: class II with e = 10 mg at 1066 g (106 600 e) errs by at most 3 e in service (OIML R 76-1, table 6 doubled: 6 e up to 100 000 e and beyond);
  // the plain step of 1 g by 2 g. The finer scale must leave less in doubt.
  const one = (scale?: object) => balanceOf('NaOH', counted, moved, [{ ...weighings[3]!, ...scale }], []).standardUncertaintyMg;
  expect(one({ scaleKey: 'fine', scale: { stepMg: 1000, capacityMg: 3_000_000, verificationIntervalMg: 10, accuracyClass: 'II' } })).toBeLessThan(one() / 2);
});
