import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { lyeDensityGPerMl } from './solution.ts';
import { leastWaterMg, solubilityAtPercent } from './solubility-curve.ts';

test.each([
  // Where crystals begin in the phase diagram of Wang 2008 (thesis), digitised by others, +-0.3 % (read); the curve is from other sources.
  [1.87, 29.78],
  [5.07, 31.81],
  [10.13, 34.25],
  [26.67, 53.87],
  [36.8, 55.91],
  [41.07, 56.99],
  [45.87, 58.34],
])('at %d C NaOH dissolves to the phase boundary at %d %% within 0.6', (temperatureC, percent) => {
  expect(Math.abs(solubilityAtPercent(0, temperatureC) - percent)).toBeLessThan(0.6);
});

test('75.8 % NaOH dissolve at 80 C (Great Soviet Encyclopedia, read; CRC Handbook 74 %, from memory)', () => {
  expect(solubilityAtPercent(0, 80)).toBeGreaterThanOrEqual(74);
  expect(solubilityAtPercent(0, 80)).toBeLessThanOrEqual(75.8);
});

test.each([
  // CRC Handbook, aqueous solubility of inorganic compounds (from memory).
  [0, 48.7],
  [20, 53.2],
  [25, 54.7],
  [50, 58.6],
  [100, 64.6],
])('at %d C KOH is not said to dissolve better than the %d %% of the handbook, and at most 3 points worse', (temperatureC, percent) => {
  expect(solubilityAtPercent(1, temperatureC)).toBeLessThan(percent + 0.6);
  expect(solubilityAtPercent(1, temperatureC)).toBeGreaterThan(percent - 3);
});

test.each([
  // Sipos et al., J. Chem. Eng. Data 45 (2000), abstract: solutions measured up to these (read).
  ['NaOH', 0, 19.1],
  ['KOH', 1, 14.1],
] as const)('saturated %s at 25 C holds at least the molarity measured, %d, %d mol/L, and at most 10 %% more', (_kind, koh, molarity) => {
  const percent = solubilityAtPercent(koh, 25);
  const density = lyeDensityGPerMl(koh ? 0 : percent, koh ? percent : 0, 100 - percent, 25);
  const computed = (percent * 10 * density) / (koh ? 56.1053 : 39.9971);
  expect(computed).toBeGreaterThan(molarity);
  expect(computed).toBeLessThan(molarity * 1.1);
});

test('109 g NaOH per 100 g water at 20 C (Perry 7th ed., from memory): 100 g need about 92 g of water', () => {
  expect(Math.abs(leastWaterMg({ naohMg: 100_000, kohMg: 0 }, 20) / 1000 - 10_000 / 109)).toBeLessThan(1);
  expect(leastWaterMg({ naohMg: 0, kohMg: 0 }, 20)).toBe(0);
});

propTest.prop([fc.double({ min: 0, max: 99, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })])(
  'a warmer pot never dissolves less',
  (temperatureC, koh) => {
    expect(solubilityAtPercent(koh, temperatureC + 1)).toBeGreaterThanOrEqual(solubilityAtPercent(koh, temperatureC));
  },
);
