import { expect, test } from 'vitest';
import type { LineKind, RecipeInput } from './recipe.ts';
import { PLAIN_RECIPE, PURE } from './testing.ts';
import type { PlanLine } from './weigh-line.ts';
import { bandOf, checkReadings, lineStates, massRead, plus } from './weighing-state.ts';

/** Class III, e = step (OIML R 76-1, 3.5.2 and Table 6): off by 1 e up to 500 e, 2 e up to 2000 e; half a step of rounding on top. */
const GRAM = { stepMg: 1000, capacityMg: 5_000_000 };
const TENTH = { stepMg: 100, capacityMg: 500_000 };
const scaleOf = (kind: LineKind) => (kind === 'naoh' ? TENTH : GRAM);

const line = (key: string, kind: LineKind, targetMg: number, spreadMg: number, stepMg: number): PlanLine => ({
  key,
  kind,
  name: key,
  massMg: targetMg,
  exactMg: targetMg,
  targetMg,
  acceptLowMg: targetMg - spreadMg,
  acceptHighMg: kind === 'naoh' ? targetMg : targetMg + spreadMg,
  stepMg,
});
const OLIVE = line('fat:olive', 'fat', 200_000, 1000, 1000);
const LYE = line('naoh', 'naoh', 25_000, 100, 100);
const LINES = [OLIVE, LYE];

test('every reading of a line is wrong by its own limit, and the readings add up', () => {
  // 200 g is 200 e: 1.5 g off. 600 g is 600 e: 2.5 g off.
  expect(massRead([200_000], GRAM)).toEqual({ low: 198_500, nominal: 200_000, high: 201_500 });
  expect(massRead([200_000, 600_000], GRAM)).toEqual({ low: 796_000, nominal: 800_000, high: 804_000 });
  // One reading of 800 g would be off by 2.5 g only: two weighings are worth less than one.
  expect(massRead([800_000], GRAM)).toEqual({ low: 797_500, nominal: 800_000, high: 802_500 });
});

test('no mass is under zero, and nothing read is nothing', () => {
  expect(massRead([1000], GRAM)).toEqual({ low: 0, nominal: 1000, high: 2500 });
  expect(massRead([1000, 200_000], GRAM).low).toBe(198_500);
  expect(massRead([], GRAM)).toEqual({ low: 0, nominal: 0, high: 0 });
});

test('two masses add end by end', () => {
  expect(plus({ low: 1, nominal: 20, high: 300 }, { low: 4, nominal: 50, high: 600 })).toEqual({ low: 5, nominal: 70, high: 900 });
});

test('a line not weighed can be any accepted reading, each line on its own scale', () => {
  expect(lineStates(LINES, [], scaleOf)).toEqual([
    // 199 to 201 g are accepted, each 1.5 g off.
    { line: OLIVE, where: 'not weighed', mass: { low: 197_500, nominal: 200_000, high: 202_500 } },
    // 24.9 to 25.0 g, 250 e: 0.15 g off on the finer scale.
    { line: LYE, where: 'not weighed', mass: { low: 24_750, nominal: 25_000, high: 25_150 } },
  ]);
});

test('a line is in its cup until any of it is in the pot, and then all of it counts as in the pot', () => {
  const where = (...mixed: (boolean | undefined)[]) => {
    const readings = mixed.map((each) => ({ key: 'naoh', readingMg: 10_000, ...(each === undefined ? {} : { mixed: each }) }));
    return lineStates(LINES, readings, scaleOf).map((state) => state.where);
  };
  expect(where(undefined)).toEqual(['not weighed', 'cup']);
  expect(where(false, undefined)).toEqual(['not weighed', 'cup']);
  expect(where(true)).toEqual(['not weighed', 'pot']);
  expect(where(true, false)).toEqual(['not weighed', 'pot']);
  expect(where(undefined, true)).toEqual(['not weighed', 'pot']);
});

test('what was read replaces what was planned, only for its own line', () => {
  const readings = [
    { key: 'naoh', readingMg: 20_000, mixed: true },
    { key: 'naoh', readingMg: 5100 },
  ];
  const [olive, lye] = lineStates(LINES, readings, scaleOf);
  expect(olive?.mass.nominal).toBe(200_000);
  // 200 e and 51 e: 0.15 g off each.
  expect(lye?.mass).toEqual({ low: 24_800, nominal: 25_100, high: 25_400 });
});

test('the band takes most lye over least fat, and the other way round', () => {
  const recipe: RecipeInput = {
    ...PLAIN_RECIPE,
    fats: [{ fatKey: 'olive', sharePercent: 100, certificateSv: { valueMgKohPerG: 190, expandedUncertainty: 0 } }],
  };
  const states = lineStates(LINES, [], scaleOf);
  // By hand: 25.15 g x 56.105 / 39.997 = 35.279 g of KOH over 197.5 g x 0.19 = 37.525 g: 5.99 %; 24.75 g over 202.5 g: 9.77 %.
  const band = bandOf(recipe, PURE, states);
  expect(band.low).toBeCloseTo(5.99, 1);
  expect(band.nominal).toBeCloseTo(7.71, 1);
  expect(band.high).toBeCloseTo(9.77, 1);
});

const TONNE_MG = 1_000_000_000;
const short = (problems: ReturnType<typeof checkReadings>) => problems.map(({ code, pointer }) => `${code} ${pointer}`);

test.each([
  ['massMg', 0, TONNE_MG],
  ['exactMg', 0, TONNE_MG],
  ['targetMg', 0, TONNE_MG],
  ['acceptLowMg', 0, TONNE_MG],
  ['acceptHighMg', 0, TONNE_MG],
  ['stepMg', 1, 100_000],
] as const)('a line of a card is whole: %s from %d to %d mg, else nothing is worked out', (key, least, most) => {
  const withValue = (value: number) => checkReadings([OLIVE, { ...LYE, [key]: value }], [{ key: 'koh', readingMg: NaN }]);
  expect(short(withValue(least))).toEqual(['value-out-of-range /readings/0/key']);
  expect(short(withValue(most))).toEqual(['value-out-of-range /readings/0/key']);
  for (const value of [least - 1, most + 1, NaN]) expect(short(withValue(value))).toEqual([`value-out-of-range /lines/1/${key}`]);
  expect(withValue(most + 1)[0]?.fields).toEqual({ value: most + 1, min: least, max: most });
  const { [key]: _lost, ...rest } = LYE;
  expect(short(checkReadings([OLIVE, rest as PlanLine], []))).toEqual([`value-missing /lines/1/${key}`]);
});

test('each reading is a mass of a line of the plan; every one that is not is named', () => {
  const readings = [
    { key: 'fat:olive', readingMg: 0 },
    { key: 'naoh', readingMg: TONNE_MG },
    { key: 'fat:lard', readingMg: 5 },
    { key: 'naoh', readingMg: TONNE_MG + 1 },
    { key: 'naoh', readingMg: -1 },
  ];
  const problems = checkReadings(LINES, readings);
  expect(short(problems)).toEqual([
    'value-out-of-range /readings/2/key',
    'value-out-of-range /readings/3/readingMg',
    'value-out-of-range /readings/4/readingMg',
  ]);
  expect(problems.map((each) => each.fields)).toEqual([
    { key: 'fat:lard' },
    { value: TONNE_MG + 1, min: 0, max: TONNE_MG },
    { value: -1, min: 0, max: TONNE_MG },
  ]);
});
