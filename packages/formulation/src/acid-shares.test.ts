import { expect, test } from 'vitest';
import { acidSharesOfBlend } from './acid-shares.ts';
import { codesOf, valueOf } from './testing.ts';

const alone = (fatKey: string) => valueOf(acidSharesOfBlend([{ fatKey, sharePercent: 100 }]));

/**
 * Saturated, mono- and polyunsaturated acids, g per 100 g of fat, as tabulated from the USDA food
 * database (read in a reprint); divided by their sum they are shares of the acids. Babassu: Molecules
 * 24 (2019) 4235, Table 1. Olive, last row: the Merck Index composition.
 */
test.each([
  ['avocado', 11.56, 70.554, 13.486],
  ['rapeseed_low_erucic', 7.365, 63.276, 28.142],
  ['coconut', 91, 6, 3],
  ['maize', 12.948, 27.576, 54.677],
  ['cottonseed', 25.9, 17.8, 51.9],
  ['olive', 14, 72, 14],
  ['palm', 49.3, 37, 9.3],
  ['peanut', 16.9, 46.2, 32],
  ['safflower', 8, 15, 75],
  ['safflower_high_oleic', 7.541, 75.221, 12.82],
  ['soybean', 15.65, 22.783, 57.74],
  ['sunflower_high_oleic', 9.859, 83.689, 3.798],
  ['babassu', 86.42, 11.43, 2.15],
  ['olive', 12.3, 83.5, 4],
])('%s: a measured lot (%d, %d, %d) lies within the shares', (fatKey, saturated, monounsaturated, polyunsaturated) => {
  const { shares } = alone(fatKey);
  const sum = saturated + monounsaturated + polyunsaturated;
  for (const [bounds, measured] of [
    [shares?.saturated, saturated],
    [shares?.monounsaturated, monounsaturated],
    [shares?.polyunsaturated, polyunsaturated],
  ] as const) {
    expect((100 * measured) / sum).toBeGreaterThanOrEqual((bounds?.low ?? Infinity) - 0.5);
    expect((100 * measured) / sum).toBeLessThanOrEqual((bounds?.high ?? 0) + 0.5);
  }
});

test('half coconut, half olive: the iodine value is the mean of the Codex ranges 6.3 to 10.6 and 75 to 94', () => {
  const blend = valueOf(
    acidSharesOfBlend([
      { fatKey: 'coconut', sharePercent: 50 },
      { fatKey: 'olive', sharePercent: 50 },
    ]),
  );
  expect(blend.iodineValue?.low).toBeCloseTo((6.3 + 75) / 2, 9);
  expect(blend.iodineValue?.high).toBeCloseTo((10.6 + 94) / 2, 9);
  expect(blend.words).toMatch(/^Of the fatty acids \d+ to \d+ % have no double bond \(saturated\), .* Iodine value 41 to 52 g per 100 g/u);
});

test('palm olein has only a lower limit in the standard, so its acids give the iodine value', () => {
  expect(alone('palm_olein').iodineValue?.low).toBeGreaterThan(50);
  expect(alone('palm_olein').withoutIodineValue).toEqual([]);
});

test('a fat without published acids is named, and no share is made up', () => {
  const blend = valueOf(
    acidSharesOfBlend([
      { fatKey: 'olive', sharePercent: 90 },
      { fatKey: 'jojoba', sharePercent: 5 },
      { fatKey: 'beeswax', sharePercent: 5 },
    ]),
  );
  expect(blend.shares).toBeUndefined();
  expect(blend.iodineValue).toBeUndefined();
  expect(blend.withoutAcids).toEqual(['Jojoba (liquid wax)', 'Beeswax, white']);
  expect(blend.withoutIodineValue).toEqual(['Beeswax, white']);
  expect(blend.words).toBe(
    'The shares of the fatty acids are not known: no composition is published here for Jojoba (liquid wax), Beeswax, white. ' +
      'The iodine value is not known: none is published here for Beeswax, white.',
  );
});

test('no fat, an unknown fat and bad shares are refused', () => {
  expect(codesOf(acidSharesOfBlend([]))).toEqual(['value-missing /fats']);
  expect(
    codesOf(
      acidSharesOfBlend([
        { fatKey: 'engine_oil', sharePercent: 0 },
        { fatKey: 'olive', sharePercent: NaN },
      ]),
    ),
  ).toEqual(['fat-unknown /fats/0/fatKey', 'value-out-of-range /fats/0/sharePercent', 'value-out-of-range /fats/1/sharePercent']);
});
