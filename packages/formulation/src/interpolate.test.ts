import { expect, test } from 'vitest';
import { interpolate } from './interpolate.ts';

test('NaOH(aq) density at 25 C between 1.8 and 2.5 mol/kg: 1.07775 by a straight line (table of advancedthermo.com, read)', () => {
  expect(
    interpolate(
      [
        [1.8, 1.07034],
        [2.5, 1.09626],
      ],
      2,
    ),
  ).toBeCloseTo(1.07775, 5);
});

test('points are met exactly and ends are held', () => {
  const table = [
    [0, 5],
    [1, 7],
    [4, 1],
  ] as const;
  expect([-3, 0, 1, 2.5, 4, 9].map((x) => interpolate(table, x))).toEqual([5, 5, 7, 4, 1, 1]);
});
