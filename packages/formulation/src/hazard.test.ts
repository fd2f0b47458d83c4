import { expect, test } from 'vitest';
import type { AlkaliKind } from './hazard.ts';
import { hazardOfSolution } from './hazard.ts';

/* Limits: Regulation (EC) 1272/2008 Annex VI Table 3, NaOH 011-002-00-6 and KOH 019-002-00-8. */
const skin = (kind: AlkaliKind, percent: number): string =>
  hazardOfSolution(kind, percent).classification.match(/Skin (?:Corr\. 1[AB]|Irrit\. 2)/u)?.[0] ?? 'none';

test.each([
  [5, 'Skin Corr. 1A'],
  [4.999, 'Skin Corr. 1B'],
  [2, 'Skin Corr. 1B'],
  [1.999, 'Skin Irrit. 2'],
  [0.5, 'Skin Irrit. 2'],
  [0.499, 'none'],
  [0, 'none'],
])('%d %% is %s for both alkalis', (percent, expected) => {
  for (const kind of ['NaOH', 'KOH', 'dual'] as const) expect(skin(kind, percent)).toBe(expected);
});

test('signal words and statements follow the class', () => {
  expect(hazardOfSolution('NaOH', 33).signalWord).toBe('Danger');
  expect(hazardOfSolution('NaOH', 33).statements.map((each) => each.code)).toEqual(['H290', 'H314']);
  expect(hazardOfSolution('KOH', 33).statements.map((each) => each.code)).toEqual(['H290', 'H302', 'H314']);
  expect(hazardOfSolution('KOH', 5).statements.map((each) => each.code)).toEqual(['H290', 'H314']);
  expect(hazardOfSolution('NaOH', 1)).toMatchObject({ signalWord: 'Warning', statements: [{ code: 'H315' }, { code: 'H319' }] });
  expect(hazardOfSolution('NaOH', 0.1).signalWord).toBeNull();
});

test.each([NaN, -1, 101, Infinity])('a concentration of %d is judged as the worst', (percent) => {
  expect(skin('NaOH', percent)).toBe('Skin Corr. 1A');
});

test('H302 of potassium hydroxide begins at 100 x 273 / 2000 = 13.65, said as 14 % and included (CLP Annex I, 3.1.3.6.1)', () => {
  const holdsH302 = (kind: AlkaliKind, percent: number): boolean => hazardOfSolution(kind, percent).statements.some((each) => each.code === 'H302');
  expect([13.99, 14].map((percent) => holdsH302('KOH', percent))).toEqual([false, true]);
  expect([14, 50].map((percent) => holdsH302('NaOH', percent))).toEqual([false, false]);
  expect(hazardOfSolution('dual', 14).classification).toBe('Acute Tox. 4; Skin Corr. 1A; Met. Corr. 1');
  expect(hazardOfSolution('dual', 13).classification).toBe('Skin Corr. 1A; Met. Corr. 1');
  // 101 % and 13.99 % of no known share: the worst, so H302 too.
  expect(holdsH302('KOH', 101) && holdsH302('KOH', NaN)).toBe(true);
});

test('water with a trace of alkali carries no statement, and 100 % is a concentration', () => {
  expect(hazardOfSolution('NaOH', 0.4)).toMatchObject({ classification: 'not classified', statements: [] });
  expect(hazardOfSolution('NaOH', 100).classification).toBe('Skin Corr. 1A; Met. Corr. 1');
});
