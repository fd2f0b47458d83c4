import { expect, test } from 'vitest';
import { vinegarForRinseFilm, whyNotVinegarOnSpill } from './neutralisation.ts';
import { codesOf, valueOf } from './testing.ts';

test('each mL of 1 N NaOH, 40.00 mg, is equivalent to 60.05 mg acetic acid (USP assay of acetic acid, from memory): 1.2 g of 5 % vinegar', () => {
  const film = valueOf(vinegarForRinseFilm({ massMg: 1000, kind: 'NaOH', concentrationPercent: 4 }));
  expect(Math.abs(film.vinegarMg - 60.05 / 0.05)).toBeLessThan(1);
});

test('as much KOH takes less, by 40.00 to 56.11', () => {
  const mg = (kind: 'NaOH' | 'KOH') => valueOf(vinegarForRinseFilm({ massMg: 10_000, kind, concentrationPercent: 1 })).vinegarMg;
  expect(Math.abs(mg('KOH') / mg('NaOH') - 40 / 56.11)).toBeLessThan(0.001);
});

test('10 mL of a rinse film at 1 % need 3 mL; the words keep vinegar off the skin', () => {
  const film = valueOf(vinegarForRinseFilm({ massMg: 10_000, kind: 'NaOH', concentrationPercent: 1 }));
  expect(film.vinegarMl).toBeCloseTo(2.99, 1);
  expect(film.words).toMatch(/^About 3 mL of 5 % vinegar .*wiped and rinsed already; never on skin or in eyes/u);
});

test('a spill of 300 g of a one-in-three lye would need 3 L and set free 137 kJ, enough to heat 1 L of water by 33 C', () => {
  const spill = valueOf(whyNotVinegarOnSpill({ massMg: 300_000, kind: 'NaOH', concentrationPercent: 33.3 }));
  expect(spill.vinegarMl / 1000).toBeCloseTo(2.99, 1);
  expect(spill.heatKJ).toBeCloseTo((99.9 / 39.997) * 55, 0);
  expect(spill.words).toMatch(/^A spill is not treated with vinegar/u);
  expect(spill.words).toContain("supplier's safety data sheet");
});

test('stronger vinegar takes less of it; essence past 10 % is refused', () => {
  expect(valueOf(vinegarForRinseFilm({ massMg: 10_000, kind: 'NaOH', concentrationPercent: 1 }, 10)).vinegarMg).toBeCloseTo(1501, -1);
  expect(codesOf(vinegarForRinseFilm({ massMg: -1, kind: 'NaOH', concentrationPercent: 101 }, 25))).toEqual([
    'value-out-of-range /massMg',
    'value-out-of-range /concentrationPercent',
    'value-out-of-range /vinegarPercent',
  ]);
});
