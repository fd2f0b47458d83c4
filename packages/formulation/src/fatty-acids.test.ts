import { expect, test } from 'vitest';
import { FATS } from './fats.ts';
import { FATTY_ACIDS, fattyAcidByCode, fattyAcidRanges } from './fatty-acids.ts';

/** Molar masses as printed in the Merck Index and the CRC Handbook (from memory), g/mol. */
test.each([
  ['4:0', 88.11],
  ['6:0', 116.16],
  ['8:0', 144.21],
  ['10:0', 172.26],
  ['12:0', 200.32],
  ['14:0', 228.37],
  ['16:0', 256.42],
  ['18:0', 284.48],
  ['18:1', 282.46],
  ['18:1-OH', 298.46],
  ['18:2', 280.45],
  ['18:3', 278.43],
  ['20:0', 312.53],
  ['20:4', 304.47],
  ['22:0', 340.58],
  ['22:1', 338.57],
  ['24:0', 368.64],
])('acid %s weighs %d g/mol', (code, gPerMol) => {
  expect(Math.abs((fattyAcidByCode(code)?.molarMassGPerMol ?? 0) - gPerMol)).toBeLessThan(0.015);
});

test('each acid stands once, and its class follows its double bonds', () => {
  expect(new Set(FATTY_ACIDS.map((acid) => acid.code)).size).toBe(FATTY_ACIDS.length);
  expect(FATTY_ACIDS).toHaveLength(26);
  expect(fattyAcidByCode('18:0')).toMatchObject({ name: 'stearic', acidClass: 'saturated', doubleBonds: 0 });
  expect(fattyAcidByCode('18:1-OH')).toMatchObject({ name: 'ricinoleic', acidClass: 'monounsaturated', carbons: 18 });
  expect(fattyAcidByCode('18:3')?.acidClass).toBe('polyunsaturated');
  expect(fattyAcidByCode('17:9')).toBeUndefined();
});

const rangesAsText = (key: string) => fattyAcidRanges(key)?.acids.map(({ acid, lowPercent, highPercent }) => `${acid.code} ${lowPercent} ${highPercent}`);

test('coconut oil as printed in Codex CXS 210-1999 Table 1 (rev. 2022), typed a second time', () => {
  expect(rangesAsText('coconut')).toEqual([
    '6:0 0 0.7',
    '8:0 4.6 10',
    '10:0 5 8',
    '12:0 45.1 53.2',
    '14:0 16.8 21',
    '16:0 7.5 10.2',
    '18:0 2 4',
    '18:1 5 10',
    '18:2 1 2.5',
    '18:3 0 0.2',
    '20:0 0 0.2',
    '20:1 0 0.2',
  ]);
  expect(fattyAcidRanges('coconut')).toMatchObject({ provenance: 'read' });
});

test('sunflower oil carries the amendment of December 2022: oleic 14.0 to 43.0, linoleic 45.4 to 74.0', () => {
  expect(rangesAsText('sunflower')).toEqual(expect.arrayContaining(['18:1 14 43', '18:2 45.4 74']));
});

/** Other documents on the same fat: the ranges must meet (Canada FDR B.09.003; Merck Index, Tallow). */
test.each([
  ['olive', { '18:1': [56, 83], '16:0': [7.5, 20], '18:2': [3.5, 20], '18:0': [0.5, 3.5], '16:1': [0.3, 3.5] }],
  ['tallow', { '18:1': [37, 43], '16:0': [24, 32], '18:0': [20, 25], '14:0': [3, 6], '18:2': [2, 3] }],
] as const)('%s of a second document overlaps acid by acid', (key, other) => {
  for (const [code, [low, high]] of Object.entries(other)) {
    const range = fattyAcidRanges(key)?.acids.find(({ acid }) => acid.code === code);
    expect(range?.lowPercent, code).toBeLessThanOrEqual(high);
    expect(range?.highPercent, code).toBeGreaterThanOrEqual(low);
  }
});

test('every range is of a fat of the catalogue, runs from low to high and allows a whole', () => {
  const known = FATS.filter((fat) => fattyAcidRanges(fat.key));
  expect(known.length).toBe(40);
  for (const fat of known) {
    const ranges = fattyAcidRanges(fat.key);
    expect(ranges?.source).not.toBe('unknown');
    expect(
      ranges?.acids.every(({ lowPercent, highPercent }) => lowPercent < highPercent),
      fat.key,
    ).toBe(true);
    expect(
      ranges?.acids.reduce((sum, each) => sum + each.lowPercent, 0),
      fat.key,
    ).toBeLessThanOrEqual(100);
    expect(
      ranges?.acids.reduce((sum, each) => sum + each.highPercent, 0),
      fat.key,
    ).toBeGreaterThanOrEqual(100);
  }
});

test('every fatty-acid table is reached by a fat, and no entry of a table is dropped in reading it', async () => {
  const { RANGE_ROWS } = await import('./fatty-acid-ranges-data.ts');
  for (const [key, , , text] of RANGE_ROWS) expect(fattyAcidRanges(key)?.acids.length, key).toBe(text.split(';').length);
  expect(RANGE_ROWS.map(([key]) => key).filter((key) => !FATS.some((fat) => fat.key === key))).toEqual([]);
});

test('a wax has no fatty-acid ranges here, nor has an unknown fat', () => {
  expect(fattyAcidRanges('jojoba')).toBeUndefined();
  expect(fattyAcidRanges('beeswax')).toBeUndefined();
  expect(fattyAcidRanges('engine_oil')).toBeUndefined();
});
