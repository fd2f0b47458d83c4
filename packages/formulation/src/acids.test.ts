import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { RECIPE_ACIDS, acidByKey, alkaliTakenByAcids } from './acids.ts';
import { exactly } from './superfat-band.ts';
import { codesOf, valueOf } from './testing.ts';

test.each([
  // Assays of the United States Pharmacopeia (from memory): each mL of 1 N sodium hydroxide, 40.00 mg, is equivalent to this much acid.
  ['citric_acid', 64.04],
  ['lactic_acid', 90.08],
  ['acetic_acid', 60.05],
])('1 mmol NaOH, 40.00 mg, takes %s of %d mg', (acidKey, mg) => {
  const taken = valueOf(alkaliTakenByAcids([{ acidKey, massMg: mg * 1000, strengthPercent: exactly(100) }]));
  expect(Math.abs(taken.naohMg.nominal / 40_000 - 1)).toBeLessThan(2e-4);
  expect(Math.abs(taken.kohMg.nominal / 56_106 - 1)).toBeLessThan(2e-4);
});

test.each([
  // PubChem compound pages (from memory), g/mol.
  ['citric_acid', 192.12],
  ['citric_acid_monohydrate', 210.14],
  ['lactic_acid', 90.08],
  ['sodium_bicarbonate', 84.007],
  ['sodium_citrate', 294.1],
  ['sodium_lactate', 112.06],
])('%s has a molar mass of %d', (key, gPerMol) => {
  expect(Math.abs((acidByKey(key)?.gPerMol ?? 0) - gPerMol)).toBeLessThan(0.01);
});

test('10 g of anhydrous citric acid take 6.25 g NaOH, the monohydrate less', () => {
  const taken = (acidKey: string) => valueOf(alkaliTakenByAcids([{ acidKey, massMg: 10_000, strengthPercent: exactly(100) }])).naohMg.nominal;
  expect(taken('citric_acid')).toBeCloseTo((3 * 39.99677 * 10_000) / 192.123, 1);
  expect(taken('citric_acid_monohydrate')).toBeLessThan(taken('citric_acid'));
});

test.each(['sodium_bicarbonate', 'sodium_citrate', 'sodium_lactate', 'salt'])('%s counts as nothing, in either direction, and says why', (acidKey) => {
  expect(valueOf(alkaliTakenByAcids([{ acidKey, massMg: 50_000, strengthPercent: exactly(100) }])).kohMg).toEqual(exactly(0));
  expect(acidByKey(acidKey)?.note).toMatch(/takes no alkali|never replace lye/u);
});

test('a range of strength gives a range of alkali: lactic acid of 80 to 90 %', () => {
  const { naohMg } = valueOf(alkaliTakenByAcids([{ acidKey: 'lactic_acid', massMg: 100_000, strengthPercent: { low: 80, nominal: 85, high: 90 } }]));
  expect([naohMg.low / naohMg.nominal, naohMg.high / naohMg.nominal]).toEqual([expect.closeTo(80 / 85, 9), expect.closeTo(90 / 85, 9)]);
});

test('unknown acids, bad masses and reversed strengths are refused', () => {
  expect(codesOf(alkaliTakenByAcids([{ acidKey: 'aqua_regia', massMg: 1, strengthPercent: exactly(100) }]))).toEqual(['value-out-of-range /acids/0/acidKey']);
  expect(codesOf(alkaliTakenByAcids([{ acidKey: 'citric_acid', massMg: NaN, strengthPercent: exactly(100) }]))).toEqual(['value-out-of-range /acids/0/massMg']);
  expect(codesOf(alkaliTakenByAcids([{ acidKey: 'citric_acid', massMg: 1, strengthPercent: { low: 90, nominal: 80, high: 95 } }]))).toEqual([
    'value-out-of-range /acids/0/strengthPercent',
  ]);
});

propTest.prop([
  fc.array(fc.record({ key: fc.constantFrom(...RECIPE_ACIDS.map((acid) => acid.key)), massMg: fc.integer({ min: 0, max: 1_000_000 }) }), { maxLength: 5 }),
])('acids add up, and sodium does the work of potassium by their molar masses', (acids) => {
  const portions = acids.map(({ key, massMg }) => ({ acidKey: key, massMg, strengthPercent: exactly(100) }));
  const all = valueOf(alkaliTakenByAcids(portions));
  const each = portions.reduce((sum, portion) => sum + valueOf(alkaliTakenByAcids([portion])).kohMg.nominal, 0);
  expect(all.kohMg.nominal).toBeCloseTo(each, 3);
  expect(all.naohMg.nominal).toBeCloseTo((each * 39.99677) / 56.1053, 3);
});
