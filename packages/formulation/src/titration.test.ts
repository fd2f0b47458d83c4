import { expect, test } from 'vitest';
import { codesOf, detailsOf, valueOf } from './testing.ts';
import { saponificationValueByTitration } from './titration.ts';

/** A virtual laboratory's table (github durg83034/Exp-08, procedure.md): 0.5 N acid, 56.1 for KOH. */
test.each([
  [1.51, 7.3, 20.1, 237.77],
  [1.5, 7.5, 20.0, 233.75],
  [1.53, 7.0, 20.2, 242.0],
])('%d g, sample %d mL, blank %d mL: %d mg/g', (fatMassG, sampleMl, blankMl, printed) => {
  const { svMgKohPerG } = valueOf(saponificationValueByTitration({ fatMassG, acidMolPerL: 0.5, blankMl, sampleMl }));
  expect(Math.abs(svMgKohPerG - printed)).toBeLessThan(0.02);
});

test('textbook (Scilab companion), with 56 for KOH: 2.5 g, blank 49.0, back 26.4 mL of 0.4 N gives 202.496', () => {
  const { svMgKohPerG } = valueOf(saponificationValueByTitration({ fatMassG: 2.5, acidMolPerL: 0.4, blankMl: 49, sampleMl: 26.4 }));
  expect((svMgKohPerG * 56) / 56.1).toBeCloseTo(202.496, 3);
});

test('textbook (Scilab companion 1478, example 3.7.2), with 56 for KOH: 1 g of oil of 180 leaves 42 mL of the blank of 50', () => {
  const { svMgKohPerG } = valueOf(saponificationValueByTitration({ fatMassG: 1, acidMolPerL: 0.4, blankMl: 50, sampleMl: 50 - 8.04 }));
  expect((svMgKohPerG * 56) / 56.1).toBeCloseTo(180, 0);
});

test('a sample that took more acid than the blank is refused with both figures', () => {
  const refused = saponificationValueByTitration({ fatMassG: 1, acidMolPerL: 0.5, blankMl: 20, sampleMl: 21 });
  expect(codesOf(refused)).toEqual(['value-out-of-range /sampleMl']);
  expect(detailsOf(refused)[0]).toContain('21 mL of acid and the blank 20 mL');
});

test('zero, negative and unreadable readings are refused together', () => {
  const refused = saponificationValueByTitration({ fatMassG: 0, acidMolPerL: NaN, blankMl: -1, sampleMl: Infinity });
  expect(codesOf(refused)).toEqual(['/fatMassG', '/acidMolPerL', '/blankMl', '/sampleMl'].map((pointer) => `value-out-of-range ${pointer}`));
});
