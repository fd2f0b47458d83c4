import { expect, test } from 'vitest';
import { checkSolubility } from './solubility.ts';

test('50 % sodium hydroxide is sold as a liquid (Dow), so it passes; 52.5 % does not at 20 C (109 g per 100 g water)', () => {
  expect(checkSolubility(50, 0)).toEqual([]);
  expect(checkSolubility(52.5, 0)[0]?.code).toBe('concentration-past-solubility');
});

test('112 g potassium hydroxide per 100 g water at 20 C (Perry 7th ed. Table 2-122, from memory) is 52.83 %', () => {
  expect(checkSolubility(52.7, 1)).toEqual([]);
  expect(checkSolubility((100 * 112) / 212 + 0.1, 1)).toHaveLength(1);
});

test('the sentence says both figures', () => {
  expect(checkSolubility(60, 0)[0]?.detail).toBe(
    'A lye concentration of 60 % is past what dissolves: about 52 % sodium hydroxide at 20 °C. Use more water; 30 to 35 % is usual.',
  );
});

test('exactly the limit passes, and what is refused says which alkali, with its figures', () => {
  expect(checkSolubility(52, 0)).toEqual([]);
  expect(checkSolubility(60, 1)[0]?.detail).toContain('about 52.8 % potassium hydroxide at 20 °C');
  // A quarter of it potassium, by hand: 0.75 x 52 + 0.25 x 52.8 = 52.2.
  expect(checkSolubility(60, 0.25)[0]).toMatchObject({ pointer: '/lyeConcentrationPercent', fields: { concentrationPercent: 60, limitPercent: 52.2 } });
  expect(checkSolubility(60, 0.25)[0]?.detail).toContain('about 52.2 % mixed alkali');
});

test('what is no number is left to the check of numbers', () => {
  expect(checkSolubility(NaN, 0)).toEqual([]);
  expect(checkSolubility(Infinity, 0)).toEqual([]);
});
