import { expect, test } from 'vitest';
import { chooseTargets } from './choose-targets.ts';
import { recipeLines } from './masses.ts';
import { planLines, targetProblem } from './plan-lines.ts';
import type { RecipeInput } from './recipe.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';
import { fatMassForMould } from './scale-to-mould.ts';
import { CERTIFIED, PLAIN_RECIPE, codesOf, detailsOf, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

/** Oils with certificates, so that weighing is what matters. */
const CERTIFIED_OILS: RecipeInput = {
  ...PLAIN_RECIPE,
  superfatPercent: 3,
  fats: [
    { fatKey: 'olive', sharePercent: 70, certificateSv: { valueMgKohPerG: 190, expandedUncertainty: 0.5 } },
    { fatKey: 'coconut', sharePercent: 30, certificateSv: { valueMgKohPerG: 257, expandedUncertainty: 0.5 } },
  ],
};
const GRAM = { stepMg: 1000, capacityMg: 20_000_000 };
const SMALL = { volumeMl: 450 };
const fieldsOf = (outcome: ReturnType<typeof planWeighing>): Record<string, number | string> => (outcome.ok ? {} : (outcome.problems[0]?.fields ?? {}));

test('an unsafe weighing names its worst line, a step that would do and a batch that would do, and both do', () => {
  const refused = planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, GRAM);
  expect(codesOf(refused)).toEqual(['superfat-band-below-floor /superfatPercent']);
  const fields = fieldsOf(refused);
  expect(fields).toMatchObject({ worstCause: 'weighing', worstLine: 'naoh' });
  expect(detailsOf(refused)[0]).toMatch(/Sodium hydroxide matters most.*steps of [\d.]+\u00a0g or a batch of .+ of fat would do\.$/u);
  const stepMg = Number(fields.neededStepMg);
  expect(stepMg).toBeLessThan(1000);
  expect(planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, { ...GRAM, stepMg }).ok).toBe(true);
  const fatMassMg = Number(fields.neededFatMassMg);
  expect(fatMassMg).toBeGreaterThan(fatMassForMould(CERTIFIED_OILS, CERTIFIED, SMALL));
  expect(planLines(CERTIFIED_OILS, CERTIFIED, fatMassMg, () => GRAM).safe).toBe(true);
  // The step is the coarsest usual one: the next coarser is still refused.
  const coarser = { 1000: 1000, 500: 1000, 200: 500, 100: 200 }[stepMg] ?? 0;
  expect(planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, { ...GRAM, stepMg: coarser }).ok).toBe(false);
});

test('when the oils alone are the reason, no step and no batch is named', () => {
  const refused = planWeighing({ ...PLAIN_RECIPE, superfatPercent: 3 }, PURITY_WITHOUT_CERTIFICATE, { volumeMl: 1300 }, GRAM);
  expect(fieldsOf(refused)).not.toHaveProperty('neededStepMg');
  expect(fieldsOf(refused)).not.toHaveProperty('neededFatMassMg');
  expect(detailsOf(refused)[0]).toMatch(/No finer scale and no larger batch is enough by itself\.$/u);
});

test('a larger batch that the scale cannot carry is not named', () => {
  const fields = fieldsOf(planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, { stepMg: 1000, capacityMg: 300_000 }));
  expect(fields).toHaveProperty('neededStepMg');
  expect(fields).not.toHaveProperty('neededFatMassMg');
});

test('too few steps name the batch with enough of them', () => {
  const refused = planWeighing(PLAIN_RECIPE, CERTIFIED, { volumeMl: 120 }, GRAM);
  const fields = fieldsOf(refused);
  const lines = planLines(PLAIN_RECIPE, CERTIFIED, Number(fields.neededFatMassMg), () => GRAM).lines;
  expect(lines.find((line) => line.key === fields.line)?.targetMg).toBeGreaterThanOrEqual(20_000);
});

test('a finer scale for the alkali alone makes the plan safe, and its line has that step', () => {
  const fine = { stepMg: 100, capacityMg: 1_000_000 };
  const plan = valueOf(planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, GRAM, { naoh: fine }));
  expect(plan.lines.find((line) => line.key === 'naoh')?.stepMg).toBe(100);
  expect(plan.lines.filter((line) => line.kind === 'fat').map((line) => line.stepMg)).toEqual([1000, 1000]);
  const wrong = planWeighing(CERTIFIED_OILS, CERTIFIED, SMALL, GRAM, { naoh: { ...fine, stepMg: 0 } });
  expect(codesOf(wrong)).toEqual(['value-out-of-range /scaleByKind/naoh/stepMg']);
});

test('a checked scale narrows the band, a wide verification interval widens it', () => {
  const width = (scale: Parameters<typeof planWeighing>[3]): number => {
    const band = valueOf(planWeighing(PLAIN_RECIPE, CERTIFIED, { volumeMl: 1300 }, scale)).superfatBandPercent;
    return band.high - band.low;
  };
  const tenth = { stepMg: 100, capacityMg: 3_000_000 };
  expect(width({ ...tenth, checkWeighings: [{ knownMg: 1_000_000, shownMg: 1_000_000 }] })).toBeLessThan(width(tenth));
  expect(width({ ...tenth, verificationIntervalMg: 1000 })).toBeGreaterThan(width(tenth));
  expect(width({ ...tenth, accuracyClass: 'IIII' })).toBeGreaterThan(width(tenth));
});

test('fats and alkali chosen together end nearer the aim than fats at the nearest step, over 300 batches', () => {
  const recipe = { ...PLAIN_RECIPE, superfatFloorPercent: 0 };
  let [together, alone, moved] = [0, 0, 0];
  for (let fatMassMg = 200_000; fatMassMg < 1_400_000; fatMassMg += 4003) {
    const search = targetProblem(recipe, CERTIFIED, recipeLines(recipe, CERTIFIED, fatMassMg), () => GRAM);
    const free = chooseTargets({ ...search, floorPercent: -100 });
    const nearest = chooseTargets({ ...search, floorPercent: -100, fats: search.fats.map((options) => options.slice(0, 1)), mostDeviationPercent: 100 });
    expect(Math.floor((free?.deviationPercent ?? 99) / 0.1)).toBeLessThanOrEqual(Math.floor((nearest?.deviationPercent ?? 0) / 0.1));
    together += free?.deviationPercent ?? 99;
    alone += nearest?.deviationPercent ?? 0;
    if ((free?.awayMg ?? 0) > (nearest?.awayMg ?? 0)) moved += 1;
  }
  expect(together).toBeLessThan(alone * 0.8);
  expect(moved).toBeGreaterThan(50);
});

test('the worst case the search keeps to is the low end of the band of the lines that follow from it', () => {
  for (const kohSharePercent of [0, 40, 100]) {
    const recipe = { ...PLAIN_RECIPE, alkali: { kohSharePercent } };
    const choice = chooseTargets(targetProblem(recipe, CERTIFIED, recipeLines(recipe, CERTIFIED, 1_234_567), () => GRAM));
    const needLow = choice?.fats.reduce((sum, fat) => sum + fat.needLowMg, 0) ?? 0;
    const { band, safe } = planLines(recipe, CERTIFIED, 1_234_567, () => GRAM);
    expect(safe).toBe(true);
    expect(100 * (1 - (choice?.alkali.metHighMg ?? 0) / needLow)).toBeCloseTo(band.low, 9);
    expect(recipe.superfatPercent + (choice?.deviationPercent ?? 0)).toBeCloseTo(band.nominal, 9);
  }
});

test('15 lines are chosen in under 50 ms', () => {
  const keys = [
    'olive',
    'coconut',
    'palm',
    'lard',
    'rapeseed_low_erucic',
    'sunflower',
    'soya',
    'groundnut',
    'castor',
    'cocoa_butter',
    'sesame',
    'grapeseed',
    'palm_kernel',
  ];
  const recipe = { ...PLAIN_RECIPE, alkali: { kohSharePercent: 40 }, fats: keys.map((fatKey, index) => ({ fatKey, sharePercent: (100 * (index + 4)) / 130 })) };
  const search = targetProblem(recipe, CERTIFIED, recipeLines(recipe, CERTIFIED, 2_345_678), () => GRAM);
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    expect(chooseTargets(search)?.fats.length).toBe(13);
    return performance.now() - start;
  });
  expect(Math.min(...times)).toBeLessThan(50);
});
