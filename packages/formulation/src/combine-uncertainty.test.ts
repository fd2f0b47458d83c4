import { expect, test } from 'vitest';
import { combineUncertainty, expanded, rectangular } from './combine-uncertainty.ts';

/* EURACHEM/CITAC Guide CG 4 (QUAM), example A2: standardising a sodium hydroxide solution; values read. */
const A2 = [
  { what: 'repeatability', value: 1, standardUncertainty: 0.0005 },
  { what: 'mass of KHP', value: 0.3888, standardUncertainty: 0.00013 },
  { what: 'purity of KHP', value: 1, standardUncertainty: 0.00029 },
  { what: 'molar mass of KHP', value: 204.2212, standardUncertainty: 0.0038 },
  { what: 'volume', value: 18.64, standardUncertainty: 0.013 },
];
const concentration = ([rep = 0, m = 0, p = 0, gPerMol = 0, v = 0]: readonly number[]): number => (rep * 1000 * m * p) / (gPerMol * v);

test('example A2 to its printed digits: c = 0.10214 mol/L, u = 0.00010 mol/L, u/c = 0.00097', () => {
  const found = combineUncertainty(concentration, A2);
  expect(found.value.toFixed(5)).toBe('0.10214');
  expect(found.standardUncertainty.toFixed(5)).toBe('0.00010');
  expect((found.standardUncertainty / found.value).toFixed(5)).toBe('0.00097');
});

test('example A2: the volume widens most, then repeatability, mass, purity, molar mass, as in its chart; relative parts as printed', () => {
  const { contributions, value } = combineUncertainty(concentration, A2);
  expect(contributions.map((each) => each.what)).toEqual(['volume', 'repeatability', 'mass of KHP', 'purity of KHP', 'molar mass of KHP']);
  expect(contributions.map((each) => Number((each.standardUncertainty / value).toPrecision(1)))).toEqual([0.0007, 0.0005, 0.0003, 0.0003, 0.00002]);
  expect(contributions.reduce((sum, each) => sum + each.varianceSharePercent, 0)).toBeCloseTo(100, 9);
});

test('a sum adds in squares: 3 and 4 make 5, in shares of 36 and 64 %', () => {
  const found = combineUncertainty(
    ([a = 0, b = 0]) => a + b,
    [
      { what: 'a', value: 1, standardUncertainty: 3 },
      { what: 'b', value: 2, standardUncertainty: 4 },
    ],
  );
  expect(found.standardUncertainty).toBeCloseTo(5, 9);
  expect(found.contributions.map((each) => [each.what, Math.round(each.varianceSharePercent)])).toEqual([
    ['b', 64],
    ['a', 36],
  ]);
});

test('exact inputs leave no doubt and no division by zero', () => {
  expect(combineUncertainty(([a = 0]) => a, [{ what: 'a', value: 1, standardUncertainty: 0 }])).toMatchObject({
    value: 1,
    standardUncertainty: 0,
    contributions: [{ varianceSharePercent: 0 }],
  });
});

test('+-0.5 % purity is 0.0029 as a rectangle in A2 (0.0005 / root 3 = 0.00029); a certificate of U = 2, k = 2 is u = 1', () => {
  expect(rectangular({ low: 0.9995, nominal: 1, high: 1.0005 }).standardUncertainty.toFixed(5)).toBe('0.00029');
  expect(rectangular({ low: 0, nominal: 3, high: 4 }).standardUncertainty).toBeCloseTo(3 / Math.sqrt(3), 9);
  expect(expanded(190, 2)).toEqual({ value: 190, standardUncertainty: 1 });
  expect(expanded(190, 3, 3).standardUncertainty).toBe(1);
});
