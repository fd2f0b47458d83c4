import { expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import type { Circumstances } from './preparation.ts';
import { preparationOf } from './preparation.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, PURE, valueOf } from './testing.ts';

const OLIVE = { fatKey: 'olive', sharePercent: 100, certificateSv: { valueMgKohPerG: 190, expandedUncertainty: 0 } };
/** 1 kg of fat. */
const prepare = (change: Partial<RecipeInput>, purity = CERTIFIED, where: Circumstances = {}) => {
  const recipe = { ...PLAIN_RECIPE, ...change };
  return preparationOf(recipe, purity, valueOf(formulate(recipe, purity)).lines, where);
};

test.each([
  // 1 kg of oil of 190 mg/g at 8 % needs 174.8 g of pure KOH or, x 39.997 / 56.105, 124.6 g of NaOH; a part of each lies between.
  [0, 124.6],
  [40, 144.7],
  [100, 174.8],
])('soap is fat and pure alkali less free fat and glycerol, with %d %% potassium', (kohSharePercent, pureG) => {
  const { bar, potConcentrationPercent } = prepare({ fats: [OLIVE], alkali: { kohSharePercent } });
  // A mole of glycerol for three of hydroxide: 174.8 x 92.09 / 168.3 = 95.6 g.
  expect((bar?.glycerolMg ?? 0) / 1000).toBeCloseTo(95.6, 0);
  expect(Math.abs((bar?.soapMg ?? 0) / 1000 - (1000 - 80 + pureG - 95.6))).toBeLessThan(0.5);
  // The concentration counts both alkalis as weighed: the 33 % of the recipe.
  expect(potConcentrationPercent).toBeCloseTo(33, 2);
});

test('a wax gives no glycerol, and an additive stays in the bar', () => {
  const wax = { fatKey: 'beeswax', sharePercent: 10, certificateSv: { valueMgKohPerG: 95, expandedUncertainty: 0 } };
  const { bar } = prepare({ fats: [{ ...OLIVE, sharePercent: 90 }, wax], superfatPercent: 20, additives: [{ name: 'Clay', shareOfFatPercent: 2 }] }, PURE);
  // 900 g of oil need 171 g of KOH, 80 % of it met: 136.8 x 92.09 / 168.3 = 74.9 g.
  expect((bar?.glycerolMg ?? 0) / 1000).toBeCloseTo(74.9, 0);
  // 1 kg of fat, 20 g of clay, and lye for 80 % of 180.5 g of KOH: 102.9 g.
  expect((bar?.solidsMg ?? 0) / 1000).toBeCloseTo(1122.9, 0);
});

test('a fat of the studio’s own is no wax: all of its need gives glycerol', () => {
  const own = { name: 'Our tallow', saponificationValue: { low: 190, high: 190 }, densityGPerMl: 0.9 };
  const { bar } = prepare({ fats: [{ fatKey: 'own:1', sharePercent: 100, own }] });
  // The same 190 mg/g and 8 % as above.
  expect((bar?.glycerolMg ?? 0) / 1000).toBeCloseTo(95.6, 0);
});

test('a film of potash takes less vinegar: 0.33 g / 56.105 g/mol of acetic acid, 60.05 g/mol, at 5 % and 1.005 g/mL are 7.03 mL, said as 8', () => {
  expect(prepare({ alkali: { kohSharePercent: 100 } }).rinseFilm).toMatch(/^About 8 mL of 5 % vinegar/u);
});

test('milk in the pot never becomes ice: with a tenth of plain water no ice keeps 30 °C', () => {
  const { ice } = prepare({ peakLimitC: 30, iceSharePercent: 0, liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 90 }] });
  expect(ice.value?.reached).toBe(false);
  expect(ice.words).toMatch(/^Even with all the plain water as ice/u);
});

test('a temperature that is no number counts as left out', () => {
  const at = (where: Circumstances) => {
    const { aroundC, workingC } = prepare({}, CERTIFIED, where);
    return [aroundC, workingC];
  };
  expect(at({})).toEqual([20, 40]);
  expect(at({ aroundC: NaN, workingC: Infinity })).toEqual([20, 40]);
  expect(at({ aroundC: 0, workingC: 35 })).toEqual([0, 35]);
});
