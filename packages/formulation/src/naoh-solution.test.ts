import { expect, test } from 'vitest';
import { naohBoilingPointC, naohSolutionDensity, naohSolutionEnthalpy, vapourPressureKPa } from './naoh-solution.ts';

test.each([
  // Perry's Chemical Engineers' Handbook, 7th ed., Sec. 2, from International Critical Tables III (from memory).
  { massPercent: 1, temperatureC: 20, density: 1.0095 },
  { massPercent: 50, temperatureC: 20, density: 1.5253 },
  { massPercent: 50, temperatureC: 40, density: 1.5109 },
  { massPercent: 50, temperatureC: 60, density: 1.4967 },
])('density of $massPercent % NaOH at $temperatureC C agrees with the handbook within 0.2 %', (row) => {
  const density = naohSolutionDensity(row.massPercent / 100, row.temperatureC);
  expect(Math.abs(density / row.density - 1)).toBeLessThan(0.002);
});

test.each([
  // Table of NaOH(aq) at 25 C by molality, advancedthermo.com (read).
  { molality: 1.8, density: 1.07034 },
  { molality: 2.0, density: 1.07787 },
  { molality: 2.5, density: 1.09626 },
])('density at $molality mol/kg and 25 C agrees with the table within 0.15 %', ({ molality, density }) => {
  const x = (molality * 39.997) / (1000 + molality * 39.997);
  expect(Math.abs(naohSolutionDensity(x, 25) / density - 1)).toBeLessThan(0.0015);
});

test('50 % solution boils near 145 C (Dow, Physical properties of caustic soda solution 50 %, read)', () => {
  expect(naohBoilingPointC(0.5)).toBeGreaterThan(143);
  expect(naohBoilingPointC(0.5)).toBeLessThan(147);
});

test('without alkali the vapour pressure is that of water: 101.325 kPa at 100 C, 3.17 kPa at 25 C (steam tables)', () => {
  expect(vapourPressureKPa(0, 100)).toBeCloseTo(101.4, 0);
  expect(vapourPressureKPa(0, 25)).toBeGreaterThan(3.1);
  expect(vapourPressureKPa(0, 25)).toBeLessThan(3.25);
});

test('the enthalpy of pure water rises as in steam tables: 104.8 kJ/kg at 25 C, 419.1 at 100 C', () => {
  expect(Math.abs(naohSolutionEnthalpy(0, 25) - 104.8)).toBeLessThan(1);
  expect(Math.abs(naohSolutionEnthalpy(0, 100) - 419.1)).toBeLessThan(1);
});

test('strong solutions boil later than thin ones, over the whole range used', () => {
  const points = Array.from({ length: 51 }, (_, percent) => naohBoilingPointC(percent / 100));
  points.slice(1).forEach((point, index) => expect(point).toBeGreaterThan(points[index] ?? Infinity));
});
