import { expect, test } from 'vitest';
import { kohApparentHeatCapacity, kohSolutionDensity, waterDensity } from './koh-solution.ts';

test.each([
  // Perry's Chemical Engineers' Handbook, 7th ed., Sec. 2, KOH at 15 C (from memory).
  { massPercent: 10, density: 1.0918 },
  { massPercent: 30, density: 1.2905 },
  { massPercent: 50, density: 1.5143 },
])('density of $massPercent % KOH at 15 C agrees with the handbook within 0.1 %', ({ massPercent, density }) => {
  expect(Math.abs(kohSolutionDensity(massPercent / 100, 15) / density - 1)).toBeLessThan(0.001);
});

test.each([
  // Kell, J. Chem. Eng. Data 20 (1975) 97, as printed in the CRC Handbook (from memory).
  { temperatureC: 4, density: 0.99997 },
  { temperatureC: 20, density: 0.9982 },
  { temperatureC: 25, density: 0.99705 },
  { temperatureC: 80, density: 0.9718 },
])('density of water at $temperatureC C', ({ temperatureC, density }) => {
  expect(waterDensity(temperatureC)).toBeCloseTo(density, 4);
});

test.each([
  // Perry's Chemical Engineers' Handbook, 7th ed., specific heats of KOH solutions at 19 C (from memory).
  { massPercent: 1.53, caloriesPerGK: 0.975 },
  { massPercent: 4.94, caloriesPerGK: 0.93 },
  { massPercent: 23.75, caloriesPerGK: 0.75 },
])('specific heat of $massPercent % KOH at 19 C agrees with the handbook within 0.3 %', ({ massPercent, caloriesPerGK }) => {
  const x = massPercent / 100;
  const specificHeat = (1 - x) * 4.184 + x * kohApparentHeatCapacity(x, 19);
  expect(Math.abs(specificHeat / (caloriesPerGK * 4.184) - 1)).toBeLessThan(0.003);
});

test('past 80 C the apparent heat capacity no longer changes with temperature', () => {
  expect(kohApparentHeatCapacity(0.3, 150)).toBe(kohApparentHeatCapacity(0.3, 80));
});
