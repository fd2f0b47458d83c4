import { expect, test } from 'vitest';
import { FATS, fatByKey } from './fats.ts';
import { fattyAcidByCode, fattyAcidRanges } from './fatty-acids.ts';
import { BABASSU, OLIVE_MERCK, RICE_BRAN } from './published-compositions.ts';
import { saponificationRangeFromAcids, saponificationValueFromAcids, saponificationValueOfMeanAcid } from './saponification-from-acids.ts';
import { codesOf, valueOf } from './testing.ts';

/** Molar masses of the triglycerides as printed in the CRC Handbook and Merck Index (from memory); SV = 3 * 56.105 / M. */
test.each([
  ['4:0', 302.37, 556.7],
  ['12:0', 639.0, 263.4],
  ['14:0', 723.16, 232.7],
  ['16:0', 807.32, 208.5],
  ['18:0', 891.48, 188.8],
  ['18:1', 885.43, 190.1],
  ['18:2', 879.38, 191.4],
  ['18:3', 873.34, 192.7],
  ['18:1-OH', 933.43, 180.3],
])('the pure triglyceride of %s (%d g/mol) has a saponification value of %d', (acid, gPerMol, printed) => {
  const { svMgKohPerG } = valueOf(saponificationValueFromAcids([{ acid, percent: 100 }]));
  expect(svMgKohPerG).toBeCloseTo(printed, 1);
  expect(Math.abs(svMgKohPerG - 168_315.9 / gPerMol)).toBeLessThan(0.02);
});

test('the formula of AOCS Cd 3a-94 as printed, with 56.1, 92.09 and 18 (from memory), agrees to 0.05 mg/g', () => {
  for (const meanMolarMass of [200, 240, 280, 320]) {
    const printed = (3 * 56.1 * 1000) / (3 * meanMolarMass + 92.09 - 3 * 18);
    expect(Math.abs(saponificationValueOfMeanAcid(meanMolarMass) - printed)).toBeLessThan(0.05);
  }
});

test('olive oil, Merck composition: mean acid 280.0 to 280.2 g/mol, 191.5 to 191.7 mg/g, inside the Merck range 187 to 196', () => {
  const { meanMolarMassGPerMol, svMgKohPerG } = valueOf(saponificationValueFromAcids(OLIVE_MERCK));
  expect(meanMolarMassGPerMol).toBeGreaterThan(279.95);
  expect(meanMolarMassGPerMol).toBeLessThan(280.25);
  expect(svMgKohPerG).toBeGreaterThan(191.45);
  expect(svMgKohPerG).toBeLessThan(191.75);
});

test('rice bran oil, printed composition: 193.0 to 193.3 mg/g, inside Codex 180 to 199', () => {
  const { svMgKohPerG } = valueOf(saponificationValueFromAcids(RICE_BRAN));
  expect(svMgKohPerG).toBeGreaterThan(192.95);
  expect(svMgKohPerG).toBeLessThan(193.35);
});

test('babassu oil: the mole-correct mean gives 250.5, inside Codex 245 to 256; the plain mean of masses gives 243.4, outside', () => {
  expect(Math.abs(valueOf(saponificationValueFromAcids(BABASSU)).svMgKohPerG - 250.5)).toBeLessThan(0.3);
  const sum = BABASSU.reduce((total, share) => total + share.percent, 0);
  const plainMean = BABASSU.reduce((total, { acid, percent }) => total + (percent * (fattyAcidByCode(acid)?.molarMassGPerMol ?? 0)) / sum, 0);
  expect(Math.abs(saponificationValueOfMeanAcid(plainMean) - 243.4)).toBeLessThan(0.3);
  expect(saponificationValueOfMeanAcid(plainMean)).toBeLessThan(fatByKey('babassu')?.saponificationValue.low ?? 0);
});

const WITH_ACIDS = FATS.filter((fat) => fattyAcidRanges(fat.key)).map((fat) => fat.key);

test('at least 25 fats have published acids to check their saponification value by', () => {
  expect(WITH_ACIDS.length).toBeGreaterThanOrEqual(25);
});

test.each(WITH_ACIDS)('%s: the saponification values its published acids allow meet its published range', (key) => {
  const computed = saponificationRangeFromAcids(key);
  const published = fatByKey(key)?.saponificationValue;
  expect(computed?.low).toBeLessThanOrEqual(published?.high ?? 0);
  expect(computed?.high).toBeGreaterThanOrEqual(published?.low ?? Infinity);
  expect(computed?.low).toBeLessThan(computed?.high ?? 0);
});

test.each([
  ['olive', OLIVE_MERCK],
  ['rice_bran', RICE_BRAN],
  ['babassu', BABASSU],
] as const)('%s: a measured composition lies between the bounds of the ranges', (key, profile) => {
  const { svMgKohPerG } = valueOf(saponificationValueFromAcids(profile));
  const bounds = saponificationRangeFromAcids(key);
  expect(svMgKohPerG).toBeGreaterThan(bounds?.low ?? Infinity);
  expect(svMgKohPerG).toBeLessThan(bounds?.high ?? 0);
});

test('unsaponifiable matter lowers only the low end: shea, up to 190 g/kg, loses 19 %', () => {
  const shea = saponificationRangeFromAcids('shea');
  expect((shea?.low ?? 0) / 0.81).toBeGreaterThan(187);
  expect((shea?.low ?? 0) / 0.81).toBeLessThan(192);
});

test('a wax and a fat without published acids have no such range; a bad profile is refused', () => {
  expect(saponificationRangeFromAcids('jojoba')).toBeUndefined();
  expect(saponificationRangeFromAcids('milk_fat')).toBeUndefined();
  expect(codesOf(saponificationValueFromAcids([{ acid: '18:1', percent: Infinity }]))).toEqual(['value-out-of-range /profile/0/percent']);
});
