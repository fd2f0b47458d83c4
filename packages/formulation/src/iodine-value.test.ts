import { expect, test } from 'vitest';
import { FATS, fatByKey } from './fats.ts';
import { fattyAcidByCode } from './fatty-acids.ts';
import { iodineFactor, iodineRangeFromAcids, iodineValueFromAcids } from './iodine-value.ts';
import { BABASSU, OLIVE_MERCK, RICE_BRAN } from './published-compositions.ts';
import { codesOf, valueOf } from './testing.ts';

/** Factors of AOCS Cd 1c-85 for triglycerides; beside each, one I2 (253.809 g) a double bond over the triglyceride. */
test.each([
  ['16:1', 0.95, 1, 801.29],
  ['18:1', 0.86, 1, 885.45],
  ['18:2', 1.732, 2, 879.4],
  ['18:3', 2.616, 3, 873.36],
  ['20:1', 0.785, 1, 969.61],
  ['22:1', 0.723, 1, 1053.78],
])('one percent of %s adds %d to the iodine value', (acid, printed, doubleBonds, triglycerideGPerMol) => {
  expect(valueOf(iodineValueFromAcids([{ acid, percent: 100 }])).iodineValue).toBeCloseTo(100 * printed, 9);
  expect(Math.abs(printed - (3 * doubleBonds * 253.809) / triglycerideGPerMol)).toBeLessThan(0.0006);
});

test('acids without a printed factor follow the same arithmetic: ricinoleic 0.8157, arachidonic 3.201, nervonic 0.669', () => {
  for (const [code, factor] of [
    ['18:1-OH', 0.8157],
    ['20:4', 3.2011],
    ['24:1', 0.6691],
    ['14:1', 1.0618],
    ['22:2', 1.4535],
  ] as const) {
    const acid = fattyAcidByCode(code);
    expect(acid && iodineFactor(acid)).toBeCloseTo(factor, 3);
  }
});

test('saturated acids add nothing', () => {
  expect(valueOf(iodineValueFromAcids([{ acid: '18:0', percent: 100 }])).iodineValue).toBe(0);
});

test('olive oil, Merck composition: 78.7 as the worked example has it (shares as printed, 99.8 in all)', () => {
  const { iodineValue } = valueOf(iodineValueFromAcids(OLIVE_MERCK));
  expect(Math.abs(iodineValue * 0.998 - 78.7)).toBeLessThan(0.05);
});

test('rice bran oil: 107.1 (shares as printed, 100.5 in all), inside the Merck range 99 to 108', () => {
  const { iodineValue } = valueOf(iodineValueFromAcids(RICE_BRAN));
  expect(Math.abs(iodineValue * 1.005 - 107.1)).toBeLessThan(0.1);
  expect(iodineValue).toBeGreaterThan(99);
  expect(iodineValue).toBeLessThan(108);
});

test('babassu oil, measured composition: inside Codex 10 to 18', () => {
  const { iodineValue } = valueOf(iodineValueFromAcids(BABASSU));
  expect(iodineValue).toBeGreaterThan(10);
  expect(iodineValue).toBeLessThan(18);
});

const COMPARABLE = FATS.filter((fat) => fat.iodineValue && iodineRangeFromAcids(fat.key)).map((fat) => fat.key);

test('at least 30 fats have both an iodine value and acids', () => {
  expect(COMPARABLE.length).toBeGreaterThanOrEqual(30);
});

test.each(COMPARABLE)('%s: the iodine values its published acids allow meet its published range', (key) => {
  const computed = iodineRangeFromAcids(key);
  expect(computed?.low).toBeLessThanOrEqual(fatByKey(key)?.iodineValue?.high ?? 0);
  expect(computed?.high).toBeGreaterThanOrEqual(fatByKey(key)?.iodineValue?.low ?? Infinity);
});

test('one-ended Codex limits meet their acids: olein at least 56, superolein at least 60, stearin at most 48', () => {
  expect(iodineRangeFromAcids('palm_olein')?.high).toBeGreaterThan(56);
  expect(iodineRangeFromAcids('palm_superolein')?.high).toBeGreaterThan(60);
  expect(iodineRangeFromAcids('palm_stearin')?.low).toBeLessThan(48);
});

test('no acids, no range; a bad profile is refused', () => {
  expect(iodineRangeFromAcids('beeswax')).toBeUndefined();
  expect(codesOf(iodineValueFromAcids([]))).toEqual(['value-out-of-range /profile']);
});
