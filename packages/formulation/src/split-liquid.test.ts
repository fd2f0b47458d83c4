import { expect, test } from 'vitest';
import { splitLiquid } from './split-liquid.ts';
import { codesOf, detailsOf, valueOf } from './testing.ts';

const ALKALI = { naohMg: 100_000, kohMg: 0 };

test('100 g alkali, 150 g water in the pot and 100 g of milk water in the fats: 40 % instead of 28.6 %', () => {
  const split = valueOf(
    splitLiquid(ALKALI, [
      { waterMg: 150_000, intoFatsPercent: 0 },
      { waterMg: 100_000, intoFatsPercent: 100 },
    ]),
  );
  expect(split.potConcentrationPercent).toBeCloseTo(40, 9);
  expect(split.wholeConcentrationPercent).toBeCloseTo(100 / 3.5, 9);
  expect(split.fatsWaterMg).toBe(100_000);
});

test('a pot left with less water than the alkali needs is refused, with the figures', () => {
  const outcome = splitLiquid(ALKALI, [{ waterMg: 250_000, intoFatsPercent: 70 }]);
  expect(codesOf(outcome)).toEqual(['concentration-past-solubility /parts']);
  expect(detailsOf(outcome)[0]).toBe(
    'With 175 g of water in the fats the lye pot is at 57.1 %, past the 52 % that dissolves at 20 °C; leave more liquid in the pot.',
  );
});

test('a share over 100 and a pot without alkali are refused', () => {
  expect(codesOf(splitLiquid({ naohMg: 0, kohMg: 0 }, [{ waterMg: 1000, intoFatsPercent: 101 }]))).toEqual([
    'value-out-of-range /naohMg',
    'value-out-of-range /parts/0/intoFatsPercent',
  ]);
});
