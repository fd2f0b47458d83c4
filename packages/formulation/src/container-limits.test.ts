import { expect, test } from 'vitest';
import { CONTAINER_MATERIALS, containerBears } from './container-limits.ts';
import { codesOf, valueOf } from './testing.ts';

const verdict = (key: string, peakC: number) => valueOf(containerBears(key, peakC)).verdict;

test.each([
  // Lab-Wares resin table, DWK plasticware page, Metal Finishing Guidebook (read).
  ['pp', 135],
  ['hdpe', 120],
  ['ldpe', 80],
  ['pvc', 66],
  ['ps', 90],
  ['pc', 135],
])('%s has the published limit of %d C', (key, limitC) => {
  expect(CONTAINER_MATERIALS.find((each) => each.key === key)?.limitC).toBe(limitC);
});

test.each([
  // ASTM D7611/D7611M resin identification codes (from memory).
  ['pet', 1],
  ['hdpe', 2],
  ['pvc', 3],
  ['ldpe', 4],
  ['pp', 5],
  ['ps', 6],
  ['pc', 7],
])('%s carries the number %d in its triangle', (key, code) => {
  expect(CONTAINER_MATERIALS.find((each) => each.key === key)?.resinCode).toBe(code);
});

test.each(['pc', 'pet', 'glass', 'aluminium', 'zinc_tin_copper', 'wood'])(
  '%s is refused at any temperature, however cold: alkali attacks it or it breaks',
  (key) => {
    expect(verdict(key, 5)).toBe('does not bear it');
    expect(valueOf(containerBears(key, 5)).words).toContain('not for lye at any temperature');
  },
);

test('polypropylene bears the peak of a one-in-three lye without ice, to 10 C under its limit', () => {
  expect(verdict('pp', 109)).toBe('bears it');
  expect(verdict('pp', 125)).toBe('bears it');
  expect(verdict('pp', 126)).toBe('does not bear it');
});

test('HDPE only with care and far from its published limit; LDPE, PVC and PS only cold; steel below caustic cracking', () => {
  expect([verdict('hdpe', 70), verdict('hdpe', 81)]).toEqual(['with care', 'does not bear it']);
  for (const key of ['ldpe', 'pvc', 'ps']) expect([verdict(key, 25), verdict(key, 60)]).toEqual(['with care', 'does not bear it']);
  expect([verdict('steel_304', 95), verdict('steel_316', 115)]).toEqual(['bears it', 'does not bear it']);
});

test('the words say how far, and every row has a reason and a source', () => {
  expect(valueOf(containerBears('pp', 108)).words).toBe(
    'Polypropylene (PP): 17 °C under its working limit of 125 °C for lye; resists caustic; brittle below 0 °C.',
  );
  for (const row of CONTAINER_MATERIALS) expect(row.reason.length * row.source.length).toBeGreaterThan(0);
});

test('an unknown material and a peak that is no number are refused, both', () => {
  expect(codesOf(containerBears('bamboo', NaN))).toEqual(['value-out-of-range /peakC', 'value-out-of-range /materialKey']);
});

test('what is over its limit says by how much, and a material that never will do is named', () => {
  expect(valueOf(containerBears('pp', 130)).words).toContain('5 °C over its working limit of 125 °C');
  expect(valueOf(containerBears('glass', 20)).words).toBe(
    'Glass, also borosilicate: not for lye at any temperature; it is etched by alkali and can burst from the sudden heat.',
  );
});

test('a peak from -40 to 260 °C is judged, any other refused', () => {
  for (const peakC of [-40, 260]) expect(codesOf(containerBears('pp', peakC))).toEqual([]);
  for (const peakC of [-41, 261]) expect(codesOf(containerBears('pp', peakC))).toEqual(['value-out-of-range /peakC']);
});
