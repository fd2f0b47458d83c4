import { expect, test } from 'vitest';
import type { WaterMeasure } from './liquid-plan.ts';
import { waterFigures, waterOf } from './liquid-plan.ts';
import { codesOf, valueOf } from './testing.ts';

const MASSES = { alkaliMg: 134_000, fatMg: 1_000_000 };

/* One to one, two to one, three to one by hand: c = 100 / (1 + r). */
test.each([
  [1, 50],
  [2, 100 / 3],
  [3, 25],
])('%d parts of water to one of alkali are a lye concentration of %d %%', (ratio, percent) => {
  expect(valueOf(waterOf({ kind: 'water per alkali', ratio }, MASSES)).lyeConcentrationPercent).toBeCloseTo(percent, 9);
});

test('134 g alkali and 380 g water for 1 kg of fat: 26.07 %, 2.836 to one, 38 % of the fat', () => {
  const figures = valueOf(waterOf({ kind: 'share of fat', percent: 38 }, MASSES));
  expect(figures.waterMg).toBe(380_000);
  expect(figures.lyeConcentrationPercent).toBeCloseTo((100 * 134) / 514, 9);
  expect(figures.waterPerAlkali).toBeCloseTo(380 / 134, 9);
});

test.each<[WaterMeasure, string]>([
  [{ kind: 'lye concentration', percent: 0 }, 'value-out-of-range /percent'],
  [{ kind: 'lye concentration', percent: NaN }, 'value-out-of-range /percent'],
  [{ kind: 'water per alkali', ratio: -1 }, 'value-out-of-range /ratio'],
  [{ kind: 'share of fat', percent: 1000 }, 'value-out-of-range /percent'],
])('a slip is refused: %j', (measure, code) => {
  expect(codesOf(waterOf(measure, MASSES))).toEqual([code]);
});

test('no alkali or no fat leaves nothing to convert', () => {
  expect(codesOf(waterOf({ kind: 'water per alkali', ratio: 2 }, { alkaliMg: 0, fatMg: 0 }))).toEqual([
    'value-out-of-range /alkaliMg',
    'value-out-of-range /fatMg',
  ]);
});

test.each([
  [NaN, 1000, 260],
  [130, NaN, 260],
  [130, 1000, NaN],
  [130, 1000, Infinity],
  [0, 1000, 260],
  [130, 0, 260],
  [130, 1000, -1],
])('alkali %d, fat %d, water %d are no plan: no water counts, the strongest lye', (alkaliMg, fatMg, waterMg) => {
  expect(waterFigures({ alkaliMg, fatMg, waterMg })).toEqual({ waterMg: 0, lyeConcentrationPercent: 100, waterPerAlkali: 0, waterShareOfFatPercent: 0 });
});

test('no water is a plan, though a strong one', () => {
  expect(waterFigures({ alkaliMg: 130, fatMg: 1000, waterMg: 0 })).toMatchObject({ lyeConcentrationPercent: 100, waterPerAlkali: 0 });
  expect(waterFigures({ alkaliMg: 1, fatMg: 1, waterMg: 3 })).toEqual({
    waterMg: 3,
    lyeConcentrationPercent: 25,
    waterPerAlkali: 3,
    waterShareOfFatPercent: 300,
  });
});
