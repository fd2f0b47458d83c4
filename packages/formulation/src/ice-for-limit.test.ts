import { expect, test } from 'vitest';
import { iceForLimit } from './ice-for-limit.ts';
import { codesOf, valueOf } from './testing.ts';

const POT = { naohMg: 500_000, kohMg: 0, plainWaterMg: 1_000_000, liquidWaterMg: 0, waterTemperatureC: 20, iceTemperatureC: -10 };

/* Common practice of soap studios, no source: half ice does not steam, three quarters practically not. */
test('a one-in-three lye under 70 C takes about half of its water as ice, under 50 C about three quarters', () => {
  const at = (limitC: number) => valueOf(iceForLimit(POT, limitC));
  expect(at(70)).toMatchObject({ reached: true, iceSharePercent: expect.closeTo(46, -1) });
  expect(at(50)).toMatchObject({ reached: true, iceSharePercent: expect.closeTo(73, -1) });
  expect(at(70).words).toMatch(/^At least \d+(\.\d)? % of the plain water as ice keeps the pot at or below 70 °C\.$/u);
});

test('a high limit needs no ice, and is said so', () => {
  expect(valueOf(iceForLimit(POT, 140))).toMatchObject({ reached: true, iceSharePercent: 0, words: 'No ice is needed to stay at or below 140 °C.' });
});

test('when all ice is not enough, the lowest peak is told', () => {
  const found = valueOf(iceForLimit(POT, 5));
  expect(found).toMatchObject({ reached: false });
  expect(found.words).toContain('Even with all the plain water as ice');
});

test('milk stays liquid: with most of the water in it no ice share does', () => {
  expect(valueOf(iceForLimit({ ...POT, plainWaterMg: 100_000, liquidWaterMg: 900_000 }, 60)).reached).toBe(false);
});

test('bad figures are refused by name', () => {
  expect(codesOf(iceForLimit({ ...POT, naohMg: -1, plainWaterMg: 0, iceTemperatureC: 3 }, NaN))).toEqual([
    'value-out-of-range /naohMg',
    'value-out-of-range /plainWaterMg',
    'value-out-of-range /iceTemperatureC',
    'value-out-of-range /limitC',
  ]);
});
