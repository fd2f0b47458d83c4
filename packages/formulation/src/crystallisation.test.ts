import { expect, test } from 'vitest';
import { coldStorageWarning, naohCrystallisationC } from './crystallisation.ts';

test('50 % crystallises at about 14 C by a maker (Dow, read); the diagram with its margin agrees within 1 C', () => {
  expect(Math.abs(naohCrystallisationC(50) + 3 - 14)).toBeLessThan(1);
});

test('pure water freezes at 0 C, 1 mol/kg NaOH near -3.4 C (2 x 1.86 with activity 0.92, textbook cryoscopy)', () => {
  expect(naohCrystallisationC(0)).toBe(0);
  expect(Math.abs(naohCrystallisationC(3.85) - -3.4)).toBeLessThan(1);
});

test('39 % is worse in the cold than 25 and 47 %', () => {
  expect(naohCrystallisationC(39)).toBeGreaterThan(naohCrystallisationC(47));
  expect(naohCrystallisationC(47)).toBeGreaterThan(naohCrystallisationC(25));
});

test('a jar in a cold store is warned of, the same jar in a warm room is not', () => {
  expect(coldStorageWarning('NaOH', 50, 10)).toMatch(/50 % sodium hydroxide solution can freeze or drop crystals below about 15 °C; at 10 °C/u);
  expect(coldStorageWarning('NaOH', 50, 20)).toBeNull();
  expect(coldStorageWarning('NaOH', 33, 4)).toContain('crystals');
  expect(coldStorageWarning('NaOH', 25, 4)).toBeNull();
});

test('KOH: no curve is claimed; past its solubility and under 0 C it warns', () => {
  expect(coldStorageWarning('KOH', 45, 5)).toBeNull();
  expect(coldStorageWarning('KOH', 52, 5)).toContain('drops crystals');
  expect(coldStorageWarning('KOH', 30, -5)).toContain('No freezing curve');
  expect(coldStorageWarning('dual', 39, 10)).toContain('crystals');
});

test('without figures the answer is caution, not silence', () => {
  expect(coldStorageWarning('NaOH', NaN, 20)).toContain('room temperature');
  expect(coldStorageWarning('NaOH', 30, Infinity)).toContain('room temperature');
});

test('at exactly the limit there is no warning, a hair below it there is', () => {
  const limitC = naohCrystallisationC(50) + 3;
  expect(coldStorageWarning('NaOH', 50, limitC)).toBeNull();
  expect(coldStorageWarning('NaOH', 50, limitC - 0.001)).toContain('crystals');
  expect(coldStorageWarning('KOH', 30, 0)).toBeNull();
  // 52.8 % dissolves at 20 C (112 g per 100 g water, Great Soviet Encyclopedia).
  expect(coldStorageWarning('KOH', 52.8, 20)).toBeNull();
  expect(coldStorageWarning('KOH', 52.81, 20)).toContain('drops crystals');
});

test('the freezing of potassium hydroxide is not held against sodium hydroxide', () => {
  expect(coldStorageWarning('NaOH', 20, -10)).toBeNull();
  expect(coldStorageWarning('dual', 20, -10)).toContain('No freezing curve');
});
