import { expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import { potOf } from './figures.ts';
import { peakTemperature } from './peak-temperature.ts';
import type { RecipeInput, WarningCode } from './recipe.ts';
import { CERTIFIED, codesOf, PLAIN_RECIPE, PURE, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

const SCALE = { stepMg: 1000, capacityMg: 5_000_000 };
const said = (recipe: RecipeInput, code: WarningCode) => valueOf(formulate(recipe, PURE)).warnings.find((warning) => warning.code === code)?.detail ?? '';
const certified = (valueMgKohPerG: number, expandedUncertainty: number) => ({ certificateSv: { valueMgKohPerG, expandedUncertainty } });

test('a late fat is judged by the worst case of the base: nominal 2 % left are not enough where the oil can be 3 % under its value', () => {
  const late = (uncertainty: number): RecipeInput => ({
    ...PLAIN_RECIPE,
    superfatPercent: 11.8,
    fats: [
      { fatKey: 'olive', sharePercent: 90, ...certified(190, uncertainty) },
      { fatKey: 'coconut', sharePercent: 10, ...certified(190, 0), late: true },
    ],
  });
  // Base by hand: 1 - 0.882 / 0.9 = 2.0 %; with 184 for 190 it is 1 - 0.98 x 190 / 184 = -1.2 %.
  expect(said(late(0), 'late-fat')).toMatch(/^Of the superfat 9\.8 points are .*without it 2 % is left\.$/u);
  expect(said(late(6), 'late-fat')).toMatch(/can hold more lye than its fats can take up: treat it as lye/u);
});

test('on a card the same is judged with every accepted reading: what just passes unweighed does not pass weighed', () => {
  const recipe: RecipeInput = {
    ...PLAIN_RECIPE,
    superfatPercent: 11,
    fats: [
      { fatKey: 'olive', sharePercent: 90, ...certified(190, 0) },
      { fatKey: 'coconut', sharePercent: 10, ...certified(190, 0), late: true },
    ],
  };
  // Base by hand: 1 - 0.89 / 0.9 = 1.1 %; a step of 1 g in about 125 g of lye, with its scale's limit, is more than that.
  expect(said(recipe, 'late-fat')).toMatch(/1\.1 % is left/u);
  const { warnings } = valueOf(planWeighing(recipe, PURE, { volumeMl: 1300 }, SCALE));
  expect(warnings.find((warning) => warning.code === 'late-fat')?.detail).toMatch(/treat it as lye/u);
});

test('what a forgotten acid would leave is said with its figure', () => {
  const sour = (superfatPercent: number): RecipeInput => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    fats: [{ fatKey: 'olive', sharePercent: 100, ...certified(190, 0) }],
    acids: [{ acidKey: 'citric_acid', shareOfFatPercent: 1, strengthPercent: { low: 100, nominal: 100, high: 100 } }],
  });
  // 10 g of citric acid take 8.76 mg KOH per g of fat, 4.61 % of 190: 10 % leave 5.4 %, 4 % leave none.
  expect(said(sour(10), 'acid-before-lye')).toMatch(/without it as little as 5\.3 % superfat is left/u);
  expect(said(sour(4), 'acid-before-lye')).toMatch(/without it the soap can hold free alkali/u);
});

test('over the limit the ice share that keeps it is named, and it does keep it', () => {
  const recipe = { ...PLAIN_RECIPE, iceSharePercent: 0, peakLimitC: 60 };
  const share = Number(/At least ([\d.]+) % of the plain water as ice/u.exec(said(recipe, 'over-peak-limit'))?.[1]);
  expect(share).toBeGreaterThan(1);
  const peakAt = (iceSharePercent: number): number => {
    const iced = { ...recipe, iceSharePercent };
    return peakTemperature(potOf(iced, valueOf(formulate(iced, PURE)).lines)).temperatureC;
  };
  expect(peakAt(share)).toBeLessThanOrEqual(60.01);
  expect(peakAt(share - 0.5)).toBeGreaterThan(60);
});

test('milk is not counted as water that may become ice: where no ice does, that is said', () => {
  const milk = { ...PLAIN_RECIPE, peakLimitC: 30, iceSharePercent: 0, liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 90 }] };
  expect(said(milk, 'over-peak-limit')).toMatch(/Even with all the plain water as ice/u);
});

test('vinegar fills the mould by its water: 100 g of 5 % vinegar are about 100 mL', () => {
  const vinegar: RecipeInput = {
    ...PLAIN_RECIPE,
    acids: [{ acidKey: 'acetic_acid', shareOfFatPercent: 10, strengthPercent: { low: 4.5, nominal: 5, high: 5.5 } }],
  };
  const more = valueOf(formulate(vinegar, PURE)).volumeMl.nominal - valueOf(formulate(PLAIN_RECIPE, PURE)).volumeMl.nominal;
  // And about 3.3 g of lye with 6.8 g of water for it, 9 mL.
  expect(more).toBeGreaterThan(98);
  expect(more).toBeLessThan(112);
});

test.each([
  [{ iodineValue: { low: 110, high: 95 } }, '/iodineValue'],
  [{ iodineValue: { low: NaN, high: 95 } }, '/iodineValue/low'],
  [{ iodineValue: { low: -1, high: 95 } }, '/iodineValue/low'],
  [{ iodineValue: { low: 0, high: 300 } }, '/iodineValue/high'],
  [{ unsaponifiablePercent: 101 }, '/unsaponifiablePercent'],
  [{ unsaponifiablePercent: NaN }, '/unsaponifiablePercent'],
])('an own fat with %j is refused at its field', (figures, pointer) => {
  const own = { name: 'Our tallow', saponificationValue: { low: 190, high: 200 }, ...figures };
  const recipe = { ...PLAIN_RECIPE, fats: [{ fatKey: 'own:1', sharePercent: 100, own }] };
  expect(codesOf(formulate(recipe, CERTIFIED))).toEqual([`value-out-of-range /fats/0/own${pointer}`]);
});
