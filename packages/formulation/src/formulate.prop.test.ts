import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { needOfKohMg } from './alkali.ts';
import { FATS, fatByKey } from './fats.ts';
import { formulate } from './formulate.ts';
import type { Formula, RecipeInput } from './recipe.ts';
import { scaleToMould } from './scale-to-mould.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';

const keys = FATS.map((fat) => fat.key);

/** Recipes of one to six fats in whole percent, any alkali mix, with ice. */
const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({
    fatKeys: fc.uniqueArray(fc.constantFrom(...keys), { minLength: 1, maxLength: 6 }),
    weights: fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 6, maxLength: 6 }),
    kohSharePercent: fc.constantFrom(0, 10, 50, 100),
    superfatPercent: fc.integer({ min: 1, max: 20 }),
    lyeConcentrationPercent: fc.integer({ min: 20, max: 50 }),
    iceSharePercent: fc.integer({ min: 0, max: 100 }),
  })
  .map(({ fatKeys, weights, kohSharePercent, ...rest }) => {
    const sum = fatKeys.reduce((total, _key, index) => total + (weights[index] ?? 1), 0);
    const fats = fatKeys.map((fatKey, index) => ({ fatKey, sharePercent: (100 * (weights[index] ?? 1)) / sum }));
    return { ...PLAIN_RECIPE, ...rest, fats, alkali: { kohSharePercent } };
  });

const massesOf = (formula: Formula): [string, number][] => formula.lines.map((line) => [line.key, line.massMg]);

test.prop([recipes, fc.integer({ min: 2, max: 40 })])('scaling is linear: k times the fat gives k times every line, within rounding', (recipe, k) => {
  const one = valueOf(formulate(recipe, CERTIFIED, 500_000));
  const many = new Map(massesOf(valueOf(formulate(recipe, CERTIFIED, 500_000 * k))));
  for (const [key, massMg] of massesOf(one)) expect(Math.abs((many.get(key) ?? 0) - k * massMg)).toBeLessThanOrEqual(10 * k + 10);
});

test.prop([recipes])('the order of the fats does not matter', (recipe) => {
  const forward = valueOf(formulate(recipe, CERTIFIED));
  const backward = valueOf(formulate({ ...recipe, fats: [...recipe.fats].reverse() }, CERTIFIED));
  expect(Math.abs(backward.alkaliMassMg - forward.alkaliMassMg)).toBeLessThanOrEqual(2);
  // Superfat is 100 (1 - A / N): two milligrams of alkali that rounding may move shift it by (100 - low) 2 / A, and up to 1.6 times as much if they are sodium.
  const low = forward.superfatBandPercent.low;
  expect(Math.abs(backward.superfatBandPercent.low - low)).toBeLessThanOrEqual(((100 - low) * 2 * 1.6) / forward.alkaliMassMg);
  expect(new Map(massesOf(backward).filter(([key]) => key.startsWith('fat:')))).toEqual(new Map(massesOf(forward).filter(([key]) => key.startsWith('fat:'))));
});

test.prop([recipes, fc.integer({ min: 1, max: 9 })])('more superfat never means more alkali', (recipe, more) => {
  const less = valueOf(formulate({ ...recipe, superfatPercent: recipe.superfatPercent + more }, CERTIFIED));
  expect(less.alkaliMassMg).toBeLessThan(valueOf(formulate(recipe, CERTIFIED)).alkaliMassMg);
});

test.prop([recipes])('planned alkali never does more than the exact need left by the superfat', (recipe) => {
  const formula = valueOf(formulate(recipe, CERTIFIED));
  const needMg = recipe.fats.reduce((sum, fat) => sum + needOfKohMg(fat.sharePercent * 10_000, fatByKey(fat.fatKey)?.saponificationValue.nominal ?? 0), 0);
  const mass = new Map(massesOf(formula));
  const metMg = ((mass.get('naoh') ?? 0) * 0.99 * 56.1053) / 39.9968 + (mass.get('koh') ?? 0) * 0.9;
  expect(metMg).toBeLessThanOrEqual(needMg * (1 - recipe.superfatPercent / 100) * (1 + 1e-6));
});

test.prop([recipes, fc.integer({ min: 1, max: 50 })])('the peak never rises with more ice', (recipe, more) => {
  const ice = Math.min(100, recipe.iceSharePercent + more);
  const colder = valueOf(formulate({ ...recipe, iceSharePercent: ice }, CERTIFIED)).peak.temperatureC;
  expect(colder).toBeLessThanOrEqual(valueOf(formulate(recipe, CERTIFIED)).peak.temperatureC + 1e-6);
});

test.prop([recipes])('no figure is ever NaN, and the peak lies between 0 and 250 C', (recipe) => {
  const formula = valueOf(formulate(recipe, CERTIFIED));
  expect(JSON.stringify(formula)).not.toContain('null');
  expect(formula.peak.temperatureC).toBeGreaterThanOrEqual(0);
  expect(formula.peak.temperatureC).toBeLessThan(250);
});

test.prop([recipes, fc.integer({ min: 200, max: 50_000 })])('a mould is filled by the nominal volume', (recipe, volumeMl) => {
  const { volumeMl: filled } = valueOf(scaleToMould(recipe, CERTIFIED, { volumeMl }));
  expect(Math.abs(filled.nominal / volumeMl - 1)).toBeLessThan(1e-4);
});

const anyNumber = fc.oneof(fc.double(), fc.constantFrom(NaN, Infinity, -Infinity, 0, -0));

test.prop([anyNumber, anyNumber, anyNumber, anyNumber, anyNumber])('any numbers at all give figures or problems, never an exception', (a, b, c, d, e) => {
  const outcome = formulate(
    { ...PLAIN_RECIPE, superfatPercent: a, lyeConcentrationPercent: b, iceSharePercent: c, waterTemperatureC: d, fats: [{ fatKey: 'olive', sharePercent: e }] },
    CERTIFIED,
    a,
  );
  if (!outcome.ok) expect(outcome.problems.length).toBeGreaterThan(0);
  else expect(JSON.stringify(outcome.value)).not.toContain('null');
});
