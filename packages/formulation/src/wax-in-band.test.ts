import { expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import type { RecipeInput } from './recipe.ts';
import { PLAIN_RECIPE, PURE, valueOf } from './testing.ts';

const withWax = (sharePercent: number, certificate: Pick<RecipeInput['fats'][number], 'certificateSv'> = {}): RecipeInput => ({
  ...PLAIN_RECIPE,
  superfatPercent: 8,
  fats: [
    { fatKey: 'olive', sharePercent: 100 - sharePercent },
    { fatKey: 'beeswax', sharePercent, ...certificate },
  ],
});
const bandOf = (recipe: RecipeInput) => valueOf(formulate(recipe, PURE)).superfatBandPercent;

test('the low end counts only the free acid of beeswax: its esters may not react in a batch', () => {
  // Olive 184 to 196, midpoint 190 (CXS 33-1981); beeswax 87 to 104, midpoint 95.5, acid value from 17 (Ph. Eur.).
  const alkali = 0.92 * (0.9 * 190 + 0.1 * 95.5);
  const least = 0.9 * 184 + 0.1 * 17;
  expect(bandOf(withWax(10)).low).toBeCloseTo(100 * (1 - alkali / least), 1);
});

test('a certificate narrows a wax’s value, not what is sure to react', () => {
  const certified = bandOf(withWax(10, { certificateSv: { valueMgKohPerG: 95.5, expandedUncertainty: 1 } }));
  expect(certified.low).toBeCloseTo(bandOf(withWax(10)).low, 3);
  expect(certified.high).toBeLessThan(bandOf(withWax(10)).high);
});

test('jojoba alone has a figure too: a hundred below nothing, never an infinity', () => {
  expect(bandOf({ ...PLAIN_RECIPE, fats: [{ fatKey: 'jojoba', sharePercent: 100 }] }).low).toBe(-100);
});
