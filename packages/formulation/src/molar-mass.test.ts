import { expect, test } from 'vitest';
import { molarMass } from './molar-mass.ts';

test.each([
  // PubChem compound pages (from memory), g/mol.
  ['carbon dioxide', { C: 1, O: 2 }, 44.009],
  ['water', { H: 2, O: 1 }, 18.015],
  ['glycerol', { C: 3, H: 8, O: 3 }, 92.09],
  ['acetic acid', { C: 2, H: 4, O: 2 }, 60.05],
  ['sodium carbonate', { Na: 2, C: 1, O: 3 }, 105.988],
  ['potassium carbonate', { K: 2, C: 1, O: 3 }, 138.205],
  ['tristearin', { C: 57, H: 110, O: 6 }, 891.5],
])('%s', (_name, atoms, gPerMol) => {
  expect(Math.abs(molarMass(atoms) - gPerMol)).toBeLessThan(0.006);
});

test('potassium hydrogen phthalate is 204.2212 g/mol (EURACHEM/CITAC QUAM, example A2, read)', () => {
  expect(Math.abs(molarMass({ C: 8, H: 5, O: 4, K: 1 }) - 204.2212)).toBeLessThan(0.0038);
});
