import { expect, test } from 'vitest';
import { FATS, fatByKey } from './fats.ts';

test('there are at least 40 fats, each key once, each with a source', () => {
  expect(FATS.length).toBeGreaterThanOrEqual(40);
  expect(new Set(FATS.map((fat) => fat.key)).size).toBe(FATS.length);
  expect(FATS.filter((fat) => fat.source === 'unknown' || fat.source === '')).toEqual([]);
});

test('every range runs from low to high, and every density is that of a fat', () => {
  for (const { saponificationValue: sv, densityGPerMl: density } of FATS) {
    expect(sv.low).toBeLessThan(sv.high);
    expect(sv.nominal).toBe((sv.low + sv.high) / 2);
    expect(density.low).toBeGreaterThan(0.84);
    expect(density.high).toBeLessThan(0.97);
  }
});

test('every glyceride fat takes no less alkali than triolein would with a sixth of it unsaponifiable, no more than tributyrin', () => {
  // 190.09 for triolein; tributyrin C15H26O6 (302.36 g/mol) 556.7: from the atomic weights of CIAAW.
  for (const fat of FATS.filter((each) => each.kind === 'fat')) {
    expect(fat.saponificationValue.low).toBeGreaterThan((190.09 * 5) / 6);
    expect(fat.saponificationValue.high).toBeLessThan(556.7);
  }
});

test('olive oil: the Merck Index range 187 to 196 and iodine value 79 to 90 lie within the published range', () => {
  const olive = fatByKey('olive');
  expect(olive?.saponificationValue.low).toBeLessThanOrEqual(187);
  expect(olive?.saponificationValue.high).toBeGreaterThanOrEqual(196);
  expect(olive?.iodineValue?.low).toBeLessThanOrEqual(79);
  expect(olive?.iodineValue?.high).toBeGreaterThanOrEqual(90);
});

test('olive oil from its fatty acids (Merck composition) by AOCS Cd 1c-85 and Cd 3a-94 lies in the catalogue ranges', () => {
  const iodineValue = 0.86 * 83.5 + 1.732 * 4.0;
  expect(iodineValue).toBeGreaterThan(fatByKey('olive')?.iodineValue?.low ?? Infinity);
  expect(iodineValue).toBeLessThan(fatByKey('olive')?.iodineValue?.high ?? 0);
  const acids = [
    [83.5, 282.47],
    [9.4, 256.43],
    [4.0, 280.45],
    [2.0, 284.48],
    [0.9, 312.54],
  ] as const;
  const mass = acids.reduce((sum, [percent]) => sum + percent, 0);
  const moles = acids.reduce((sum, [percent, gPerMol]) => sum + percent / gPerMol, 0);
  const sv = (3 * 56.1 * 1000) / ((3 * mass) / moles + 92.09 - 3 * 18);
  expect(Math.abs(sv - (fatByKey('olive')?.saponificationValue.nominal ?? 0))).toBeLessThan(6);
});

test('beeswax and jojoba are waxes and say so; nothing else is one', () => {
  const waxes = FATS.filter((fat) => fat.kind === 'wax');
  expect(waxes.map((fat) => fat.key).sort()).toEqual(['beeswax', 'jojoba']);
  expect(waxes.every((fat) => fat.caution)).toBe(true);
});

test('beeswax: acid value 17 to 24 and ester value 70 to 80 (BP, Ph. Eur.) add to its saponification value', () => {
  expect(fatByKey('beeswax')?.saponificationValue).toMatchObject({ low: 17 + 70, high: 24 + 80 });
});

test('values of other documents lie in the ranges (Jamieson, Merck Index, USP 29, supplier sheets)', () => {
  for (const [key, low, high] of [
    ['hemp', 190, 193],
    ['lard', 195, 203],
    ['rice_bran', 181, 189],
    ['mango_butter', 195, 195],
    ['avocado', 188, 196],
    ['castor', 176, 182],
    ['almond', 190, 195],
  ] as const) {
    expect(fatByKey(key)?.saponificationValue.low, key).toBeLessThanOrEqual(low);
    expect(fatByKey(key)?.saponificationValue.high, key).toBeGreaterThanOrEqual(high);
  }
});

test('every fat that is no standard of Codex or a pharmacopoeia carries a caution', () => {
  const bare = FATS.filter((fat) => /supplier|Chem\. Soc\.|Jamieson|CAMEO/u.test(fat.source) && fat.key !== 'almond' && !fat.caution);
  expect(bare.map((fat) => fat.key)).toEqual([]);
});

test('an unknown key gives undefined', () => {
  expect(fatByKey('engine_oil')).toBeUndefined();
});
