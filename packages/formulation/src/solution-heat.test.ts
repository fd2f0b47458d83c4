import { expect, test } from 'vitest';
import { naohSolutionEnthalpy } from './naoh-solution.ts';
import { DRY_NAOH_J_PER_G, iceEnthalpy, naohHeatOfSolution, potEnthalpy, temperatureOfPot, waterEnthalpy } from './solution-heat.ts';

test('in very much water NaOH gives 44.51 kJ/mol (Parker, NSRDS-NBS 2, 1965)', () => {
  expect(naohHeatOfSolution(100_000)).toBeCloseTo(-44.51, 2);
});

test.each([
  // Felder & Rousseau, 3rd ed., Table B.11: r = 4 read in the solution of problem 8.83, the rest from
  // memory. That table ends at -42.89 kJ/mol, so the loss against infinite dilution is compared.
  { moles: 3, kJPerMol: -28.87 },
  { moles: 4, kJPerMol: -34.43 },
  { moles: 5, kJPerMol: -37.74 },
  { moles: 10, kJPerMol: -42.51 },
])('with $moles mol water per mol the heat falls short of infinite dilution as in the table', ({ moles, kJPerMol }) => {
  const tabulated = kJPerMol - -42.89;
  const computed = naohHeatOfSolution(moles) - -44.51;
  expect(Math.abs(computed - tabulated)).toBeLessThan(0.3);
});

test('melting 1 g of ice at 0 C takes 333.55 J (CRC Handbook), and colder ice takes more', () => {
  expect(waterEnthalpy(0) - iceEnthalpy(0)).toBeCloseTo(333.55, 6);
  expect(iceEnthalpy(-18)).toBeLessThan(iceEnthalpy(0));
});

test('dry NaOH lies far above its solutions', () => {
  expect(DRY_NAOH_J_PER_G).toBeGreaterThan(naohSolutionEnthalpy(0.5, 100));
});

test('a pot of NaOH solution gives its own temperature back', () => {
  const pot = { naoh: 30, koh: 0, water: 70 };
  expect(temperatureOfPot(pot, potEnthalpy(pot, 63))).toBeCloseTo(63, 6);
});

test('potassium hydroxide in thin solution lowers the heat capacity of the pot', () => {
  const without = potEnthalpy({ naoh: 0, koh: 0, water: 95 }, 60) - potEnthalpy({ naoh: 0, koh: 0, water: 95 }, 25);
  const withKoh = potEnthalpy({ naoh: 0, koh: 5, water: 95 }, 60) - potEnthalpy({ naoh: 0, koh: 5, water: 95 }, 25);
  expect(withKoh).toBeLessThan(without);
});
