import { expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import { scaleToMould } from './scale-to-mould.ts';
import { CERTIFIED, PLAIN_RECIPE, codesOf, valueOf } from './testing.ts';

test('the nominal volume fills the mould, and the range around it says the error', () => {
  const { volumeMl } = valueOf(scaleToMould(PLAIN_RECIPE, CERTIFIED, { volumeMl: 1200 }));
  expect(volumeMl.nominal).toBeCloseTo(1200, 1);
  expect(volumeMl.low).toBeLessThan(1200 * 0.98);
  expect(volumeMl.high).toBeGreaterThan(1200 * 1.02);
});

test('by hand, for rapeseed oil with 33 % lye: 0.903 g/mL of oil at 40 C and 1.341 g/mL of lye (Olsson 1997)', () => {
  const recipe = { ...PLAIN_RECIPE, fats: [{ fatKey: 'rapeseed_low_erucic', sharePercent: 100 }] };
  const formula = valueOf(formulate(recipe, CERTIFIED));
  const lyeG = (formula.alkaliMassMg + formula.waterMassMg) / 1000;
  expect(Math.abs(formula.volumeMl.nominal - (1000 / 0.903 + lyeG / 1.341))).toBeLessThan(6);
});

test('a batter is denser than oil and lighter than its lye: 0.95 to 1.05 g/mL (common practice, no source)', () => {
  const formula = valueOf(formulate(PLAIN_RECIPE, CERTIFIED));
  const density = formula.batchMassMg / 1000 / formula.volumeMl.nominal;
  expect(density).toBeGreaterThan(0.95);
  expect(density).toBeLessThan(1.05);
});

test('filling to 80 % is a mould of 80 % of the volume', () => {
  const part = valueOf(scaleToMould(PLAIN_RECIPE, CERTIFIED, { volumeMl: 1000, fillPercent: 80 }));
  const small = valueOf(scaleToMould(PLAIN_RECIPE, CERTIFIED, { volumeMl: 800 }));
  expect(part.lines).toEqual(small.lines);
});

test.each([
  [{ volumeMl: 0 }, 'value-out-of-range /mould/volumeMl'],
  [{ volumeMl: -5 }, 'value-out-of-range /mould/volumeMl'],
  [{ volumeMl: NaN }, 'value-out-of-range /mould/volumeMl'],
  [{ volumeMl: 1e9 }, 'value-out-of-range /mould/volumeMl'],
  [{ volumeMl: 500, fillPercent: 120 }, 'value-out-of-range /mould/fillPercent'],
])('the mould %j is refused', (mould, expected) => {
  expect(codesOf(scaleToMould(PLAIN_RECIPE, CERTIFIED, mould))).toEqual([expected]);
});

const allowing = (shrinkPercent: number, wastePercent: number) => ({ ...PLAIN_RECIPE, allowance: { shrinkPercent, wastePercent } });

test('an allowance makes as much as leaves the mould full: what is made is poured but for the waste, and what is poured shrinks', () => {
  const made = (shrink: number, waste: number): number => valueOf(scaleToMould(allowing(shrink, waste), CERTIFIED, { volumeMl: 900 })).volumeMl.nominal;
  expect(made(10, 0)).toBeCloseTo(1000, 1);
  expect(made(0, 10)).toBeCloseTo(1000, 1);
  expect(made(4, 2.5) * 0.975 * 0.96).toBeCloseTo(900, 1);
  expect(made(0, 0)).toBeCloseTo(900, 1);
});

test('an allowance changes the amounts, not their proportion', () => {
  const [less, more] = [PLAIN_RECIPE, allowing(4, 3)].map((recipe) => valueOf(scaleToMould(recipe, CERTIFIED, { volumeMl: 1000 })));
  expect(more!.superfatBandPercent.nominal).toBeCloseTo(less!.superfatBandPercent.nominal, 3);
  expect(more!.lyeConcentrationPercent).toBeCloseTo(less!.lyeConcentrationPercent, 3);
});

test.each([
  [-1, 31, ['/allowance/shrinkPercent', '/allowance/wastePercent']],
  [NaN, 0, ['/allowance/shrinkPercent']],
])('an allowance of %d and %d %% is refused', (shrink, waste, pointers) => {
  expect(codesOf(scaleToMould(allowing(shrink, waste), CERTIFIED, { volumeMl: 900 }))).toEqual(pointers.map((pointer) => `value-out-of-range ${pointer}`));
});
