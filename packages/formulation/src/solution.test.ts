import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { lyeSolution } from './solution.ts';
import { codesOf, valueOf } from './testing.ts';

const naoh = (percent: number, temperatureC: number) =>
  valueOf(lyeSolution({ naohMg: percent * 10_000, kohMg: 0, waterMg: (100 - percent) * 10_000 }, temperatureC));
const koh = (percent: number, temperatureC: number) =>
  valueOf(lyeSolution({ naohMg: 0, kohMg: percent * 10_000, waterMg: (100 - percent) * 10_000 }, temperatureC));

test.each([
  // Table of NaOH(aq), advancedthermo.com (read).
  [1.9606, 10, 1.02222],
  [1.9606, 85, 0.98913],
  [3.8459, 25, 1.03911],
  [7.4069, 55, 1.06343],
  [10.7136, 40, 1.10659],
  [13.7922, 85, 1.11357],
  [16.6656, 70, 1.15308],
  [19.3537, 25, 1.20866],
  [19.3537, 70, 1.18192],
])('%d %% NaOH at %d C has a density of %d g/mL within 0.15 %%', (percent, temperatureC, density) => {
  expect(Math.abs(naoh(percent, temperatureC).densityGPerMl / density - 1)).toBeLessThan(0.0015);
});

test.each([
  // Perry's Chemical Engineers' Handbook, 7th ed., Sec. 2, KOH at 15 C (from memory).
  [4, 1.0359],
  [14, 1.1299],
  [20, 1.1884],
  [28, 1.2695],
  [36, 1.3549],
  [44, 1.4443],
])('%d %% KOH at 15 C has a density of %d g/mL within 0.1 %%', (percent, density) => {
  expect(Math.abs(koh(percent, 15).densityGPerMl / density - 1)).toBeLessThan(0.001);
});

test('50 % NaOH has a relative density of 1.52 at 20 C and boils near 145 C (Dow from ICT III, read)', () => {
  expect(Math.abs(naoh(50, 20).densityGPerMl - 1.52)).toBeLessThan(0.01);
  expect(Math.abs(naoh(50, 20).boilingPointC - 145)).toBeLessThan(2);
});

test('1 kg of a third of NaOH takes about 740 mL at 25 C and more when hot', () => {
  expect(Math.abs(naoh(33.333, 25).volumeMl - 1000 / 1.358)).toBeLessThan(4);
  expect(naoh(33.333, 80).volumeMl).toBeGreaterThan(naoh(33.333, 25).volumeMl);
});

test('with potassium hydroxide the boiling point of water is taken, and pure water is itself', () => {
  expect(koh(30, 20).boilingPointC).toBe(100);
  expect(Math.abs(naoh(0, 20).densityGPerMl - 0.9982)).toBeLessThan(0.002);
  expect(naoh(0, 20).concentrationPercent).toBe(0);
});

test('a pot without water and a temperature that is no number are refused', () => {
  expect(codesOf(lyeSolution({ naohMg: 1000, kohMg: 0, waterMg: 0 }, NaN))).toEqual(['value-out-of-range /waterMg', 'value-out-of-range /temperatureC']);
});

test('the concentration counts both alkalis: 10 g of NaOH and 20 g of KOH in 70 g of water are 30 %', () => {
  expect(koh(30, 20).concentrationPercent).toBeCloseTo(30, 9);
  expect(valueOf(lyeSolution({ naohMg: 10_000, kohMg: 20_000, waterMg: 70_000 }, 20))).toMatchObject({ massMg: 100_000, concentrationPercent: 30 });
});

test('what dissolves: 337 g of NaOH and 162.9 g of KOH in 100 g of water at 100 C (sources in solubility-curve.ts), mixed by mass', () => {
  const most = (naohMg: number, kohMg: number) => valueOf(lyeSolution({ naohMg, kohMg, waterMg: 100_000 }, 100)).solubilityPercent;
  // 337 / 437 and 162.9 / 262.9; one part of NaOH to three of KOH, and the other way round, lie between by hand.
  expect(most(50_000, 0)).toBeCloseTo(77.12, 1);
  expect(most(0, 50_000)).toBeCloseTo(61.96, 1);
  expect(most(10_000, 30_000)).toBeCloseTo(65.75, 1);
  expect(most(30_000, 10_000)).toBeCloseTo(73.33, 1);
  expect(most(20_000, 20_000)).toBeCloseTo(69.54, 1);
  // Water alone: what it could dissolve of NaOH.
  expect(most(0, 0)).toBeCloseTo(77.12, 1);
});

test('from 0 to 160 C, both included', () => {
  const at = (temperatureC: number) => codesOf(lyeSolution({ naohMg: 30_000, kohMg: 0, waterMg: 70_000 }, temperatureC));
  expect([at(0), at(160)]).toEqual([[], []]);
  expect([at(-0.1), at(160.1)]).toEqual([['value-out-of-range /temperatureC'], ['value-out-of-range /temperatureC']]);
});

propTest.prop([fc.integer({ min: 0, max: 49 }), fc.integer({ min: 15, max: 90 }), fc.boolean()])(
  'more alkali is denser, a warmer solution is not',
  (percent, temperatureC, potash) => {
    const at = potash ? koh : naoh;
    expect(at(percent + 1, temperatureC).densityGPerMl).toBeGreaterThan(at(percent, temperatureC).densityGPerMl);
    expect(at(percent, temperatureC + 10).densityGPerMl).toBeLessThan(at(percent, temperatureC).densityGPerMl);
  },
);
