import { expect, test } from 'vitest';
import { SUPPLIER_FIRST, labelOfSolution } from './label-statements.ts';

const codes = (kind: 'NaOH' | 'KOH' | 'dual', percent: number) => labelOfSolution(kind, percent).precautions.map((each) => each.code);

/* Regulation (EC) 1272/2008 Annex VI limits at their edges; sets of Annex I Table 3.2.5 (from memory) and 3.3.5 (read). */
test.each([
  [5, 'Danger', 'Skin Corr. 1A'],
  [4.999, 'Danger', 'Skin Corr. 1B'],
  [2, 'Danger', 'Skin Corr. 1B'],
  [1.999, 'Warning', 'Skin Irrit. 2'],
  [0.5, 'Warning', 'Skin Irrit. 2'],
  [0.499, null, 'not classified'],
])('at %d %% the label says %s and holds the statements of %s', (percent, signalWord, classification) => {
  for (const kind of ['NaOH', 'KOH', 'dual'] as const) {
    const label = labelOfSolution(kind, percent);
    expect(label.signalWord).toBe(signalWord);
    expect(label.classification).toContain(classification);
    expect(label.precautions.length).toBe(signalWord === 'Danger' ? 13 : signalWord === 'Warning' ? 6 : 0);
  }
});

test('a corrosive jar carries the statements a workplace label needs', () => {
  expect(codes('NaOH', 33)).toEqual(
    expect.arrayContaining(['P260', 'P280', 'P301+P330+P331', 'P303+P361+P353', 'P304+P340', 'P305+P351+P338', 'P310', 'P405', 'P501']),
  );
  expect(codes('NaOH', 33)).not.toContain('P270');
  expect(codes('KOH', 33)).toContain('P270');
});

test('the words of Annex IV, read in supplier sheets: eyes, swallowed, breath', () => {
  const text = (code: string) => labelOfSolution('NaOH', 33).precautions.find((each) => each.code === code)?.text;
  expect(text('P305+P351+P338')).toBe(
    'IF IN EYES: Rinse cautiously with water for several minutes. Remove contact lenses, if present and easy to do. Continue rinsing.',
  );
  expect(text('P301+P330+P331')).toBe('IF SWALLOWED: Rinse mouth. Do NOT induce vomiting.');
  expect(text('P260')).toBe('Do not breathe dust/fume/gas/mist/vapours/spray.');
});

test('US wording where it differs: mists, "If", poison center; no codes', () => {
  const { us } = labelOfSolution('KOH', 33);
  expect(us.precautions).toContain('Do not breathe dusts or mists.');
  expect(us.precautions).toContain('Immediately call a poison center or doctor.');
  expect(us.precautions.join(' ')).not.toMatch(/P\d{3}|IF /u);
  expect(us.statements).toEqual(['May be corrosive to metals.', 'Harmful if swallowed.', 'Causes severe skin burns and eye damage.']);
});

test('in the US pH 11.5 decides: 1 % is Danger there and Warning in the EU; 0.0126 % NaOH and 0.0177 % KOH are the edge', () => {
  expect(labelOfSolution('NaOH', 1)).toMatchObject({ signalWord: 'Warning', us: { signalWord: 'Danger' } });
  expect([0.0127, 0.0126].map((percent) => labelOfSolution('NaOH', percent).us.signalWord)).toEqual(['Danger', null]);
  expect([0.0178, 0.0177].map((percent) => labelOfSolution('KOH', percent).us.signalWord)).toEqual(['Danger', null]);
});

test.each([NaN, -1, 1000])('a concentration of %d is labelled as the worst in both', (percent) => {
  expect(labelOfSolution('NaOH', percent)).toMatchObject({ signalWord: 'Danger', us: { signalWord: 'Danger' } });
});

test('every label defers to the supplier, and every statement says whether it was read', () => {
  for (const percent of [0, 1, 3, 33]) expect(labelOfSolution('NaOH', percent).supplierFirst).toBe(SUPPLIER_FIRST);
  expect(SUPPLIER_FIRST).toContain("Follow the supplier's safety data sheet");
  for (const each of labelOfSolution('dual', 33).precautions) expect(['read', 'from memory']).toContain(each.provenance);
});
