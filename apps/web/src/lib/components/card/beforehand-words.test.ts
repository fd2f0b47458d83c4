import { expect, test } from 'vitest';
import { beforehandWords } from './beforehand-words.ts';

const card = (added: Partial<Parameters<typeof beforehandWords>[0]>) => ({ lyeConcentrationPercent: 30, ...added });

test('a card from before says nothing, rather than something blank', () => {
  expect(beforehandWords(card({}))).toEqual([]);
});

test('the likely range with what widens it most, whatever commas its name holds', () => {
  const contributions = ['saponification value of Beeswax, white, 51 % of the variance', 'weighing of Olive oil, 2 % of the variance'];
  expect(beforehandWords(card({ likelySuperfatPercent: { low: 4.04, nominal: 7, high: 9.9 }, contributions }))).toEqual([
    'Likely superfat 4 to 9.9 % (k = 2); widest: saponification value of Beeswax, white.',
  ]);
});

test('the pot’s own concentration only where it is another, then the solution in three figures', () => {
  const solution = { solutionVolumeMl: 353.41, solutionDensityGPerMl: 1.2839 };
  expect(beforehandWords(card({ potConcentrationPercent: 30.01, ...solution }))).toEqual(['Solution 353\u00a0mL at 20\u00a0°C, 1.28\u00a0g/mL.']);
  expect(beforehandWords(card({ potConcentrationPercent: 38.46, ...solution }))[0]).toBe('In the lye pot the concentration is 38.5 %.');
});
