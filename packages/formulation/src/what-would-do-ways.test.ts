import { expect, test } from 'vitest';
import type { ScaleOf } from './plan-lines.ts';
import { planLines } from './plan-lines.ts';
import type { RecipeInput } from './recipe.ts';
import { fatMassForMould } from './scale-to-mould.ts';
import { exactly } from './superfat-band.ts';
import { CERTIFIED, PLAIN_RECIPE } from './testing.ts';
import { whatWouldDo, wordsOf } from './what-would-do.ts';

/** Oils with certificates, so that weighing is what matters. */
const OILS: RecipeInput = {
  ...PLAIN_RECIPE,
  superfatPercent: 3,
  fats: [
    { fatKey: 'olive', sharePercent: 70, certificateSv: { valueMgKohPerG: 190, expandedUncertainty: 0.5 } },
    { fatKey: 'coconut', sharePercent: 30, certificateSv: { valueMgKohPerG: 257, expandedUncertainty: 0.5 } },
  ],
};
const GRAM = { stepMg: 1000, capacityMg: 20_000_000 };
const TENTH = { ...GRAM, stepMg: 100 };
const CHECKED = { ...TENTH, checkWeighings: [{ knownMg: 100_000, shownMg: 100_000 }] };

function found(recipe: RecipeInput, fatMassMg: number, scaleOf: ScaleOf) {
  const planned = planLines(recipe, CERTIFIED, fatMassMg, scaleOf);
  expect(planned.safe).toBe(false);
  return whatWouldDo(recipe, CERTIFIED, planned, scaleOf);
}

/** Scales in use, their coarsest step, and by hand the same scales with a finer step. */
const SCALES: Record<string, { scaleOf: ScaleOf; coarsestMg: number; finer: (stepMg: number) => ScaleOf }> = {
  'one of class III': { scaleOf: () => GRAM, coarsestMg: 1000, finer: (stepMg) => () => ({ ...GRAM, stepMg }) },
  'e is ten steps and stays ten steps': {
    scaleOf: () => ({ ...GRAM, verificationIntervalMg: 10_000 }),
    coarsestMg: 1000,
    finer: (stepMg) => () => ({ ...GRAM, stepMg, verificationIntervalMg: 10 * stepMg }),
  },
  'class IIII stays class IIII': {
    scaleOf: () => ({ ...GRAM, accuracyClass: 'IIII' }),
    coarsestMg: 1000,
    finer: (stepMg) => () => ({ ...GRAM, stepMg, accuracyClass: 'IIII' }),
  },
  'a bad check weighing says nothing of another scale': {
    scaleOf: () => ({ ...GRAM, checkWeighings: [{ knownMg: 1_000_000, shownMg: 1_004_000 }] }),
    coarsestMg: 1000,
    finer: (stepMg) => () => ({ ...GRAM, stepMg }),
  },
  'a fine scale for the alkali stays as it is': {
    scaleOf: (kind) => (kind === 'naoh' ? TENTH : { ...GRAM, stepMg: 5000 }),
    coarsestMg: 5000,
    finer: (stepMg) => (kind) => (kind === 'naoh' ? { ...TENTH, stepMg: Math.min(100, stepMg) } : { ...GRAM, stepMg }),
  },
  'a checked scale of just this step keeps its check': {
    scaleOf: (kind) => (kind === 'naoh' ? CHECKED : { ...GRAM, stepMg: 500 }),
    coarsestMg: 500,
    finer: (stepMg) => (kind) => (kind !== 'naoh' || stepMg < 100 ? { ...GRAM, stepMg } : CHECKED),
  },
  'a coarse scale for the alkali is what changes': {
    scaleOf: (kind) => (kind === 'naoh' ? { ...GRAM, stepMg: 5000 } : GRAM),
    coarsestMg: 5000,
    finer: (stepMg) => (kind) => ({ ...GRAM, stepMg: kind === 'naoh' ? stepMg : Math.min(1000, stepMg) }),
  },
};
/** 1, 2 and 5 times a power of ten, coarse first. */
const STEPS_MG = [4, 3, 2, 1, 0].flatMap((power) => [5, 2, 1].map((digit) => digit * 10 ** power));

test.each(Object.entries(SCALES))('the step that is named is the coarsest usual one that makes the plan safe: %s', (_name, { scaleOf, coarsestMg, finer }) => {
  const named = new Set<number | undefined>();
  for (const superfatFloorPercent of [0.5, 1]) {
    for (const volumeMl of [90, 150, 300, 450, 900]) {
      const recipe = { ...OILS, superfatFloorPercent };
      const fatMassMg = fatMassForMould(recipe, CERTIFIED, { volumeMl });
      if (planLines(recipe, CERTIFIED, fatMassMg, scaleOf).safe) continue;
      // Every step is tried here, with scales written down by hand above.
      const enough = STEPS_MG.find((stepMg) => stepMg < coarsestMg && planLines(recipe, CERTIFIED, fatMassMg, finer(stepMg)).safe);
      const { neededStepMg } = found(recipe, fatMassMg, scaleOf);
      expect(neededStepMg).toBe(enough);
      named.add(neededStepMg);
    }
  }
  // It was no table with one answer: batches differ in what they need.
  expect(named.size).toBeGreaterThan(1);
  expect(named).not.toContain(undefined);
});

test.each([
  // By hand: each is a twentieth more than the one before, rounded up to two figures.
  [208_441, [220, 240, 260, 280, 300, 320, 340, 360, 380, 400, 420], 450],
  [312_662, [330, 350, 370, 390, 410, 440], 470],
])('the batch that is named for %d mg of fat is the first safe one of a growing row', (fatMassMg, tooSmallG, enoughG) => {
  expect(found(OILS, fatMassMg, () => GRAM).neededFatMassMg).toBe(enoughG * 1000);
  const safe = (grams: number): boolean => planLines(OILS, CERTIFIED, grams * 1000, () => GRAM).safe;
  expect(tooSmallG.filter(safe)).toEqual([]);
  expect(safe(enoughG)).toBe(true);
});

test('a batch is named as long as the scale carries its largest accepted reading, to the milligram', () => {
  const { lines } = planLines(OILS, CERTIFIED, 450_000, () => GRAM);
  const largestMg = Math.max(...lines.map((line) => line.acceptHighMg));
  // 70 % of 450 g of fat are 315 g of olive oil, give or take a step, accepted up to a step more.
  expect(Math.abs(largestMg - 316_000)).toBeLessThanOrEqual(1000);
  expect(found(OILS, 208_441, () => ({ ...GRAM, capacityMg: largestMg })).neededFatMassMg).toBe(450_000);
  expect(found(OILS, 208_441, () => ({ ...GRAM, capacityMg: largestMg - 1 }))).not.toHaveProperty('neededFatMassMg');
});

test('the worst line is the one on the coarse scale, and its points are those of the hand', () => {
  const lye = found(OILS, 312_662, () => GRAM);
  expect(lye).toMatchObject({ line: 'naoh', lineName: 'Sodium hydroxide' });
  // Lye up to 1.5 g over (99.5 %, x 56.105 / 39.997 = 2.094 g of KOH), over the least need: 215.5 g x 0.1895 + 90.5 g x 0.2565 = 64.05 g.
  expect(lye.lineLowersByPercent).toBeCloseTo(3.27, 1);
  const fat = found(OILS, 208_441, (kind) => (kind === 'fat' ? { ...GRAM, stepMg: 5000 } : TENTH));
  expect(fat).toMatchObject({ line: 'fat:coconut', lineName: 'Coconut oil' });
  const acids = [{ acidKey: 'citric_acid', shareOfFatPercent: 2, strengthPercent: exactly(100) }];
  const acid = found({ ...OILS, acids }, 400_000, (kind) => (kind === 'acid' ? { ...GRAM, stepMg: 2000 } : TENTH));
  expect(acid).toMatchObject({ line: 'acid:citric_acid', lineName: 'Citric acid, anhydrous' });
  // 8 g read as 6 g, and 3 g less in truth: 5 g x 3 x 56.105 / 192.12 = 4.38 g of KOH, over 278.2 g x 0.1895 + 118.9 g x 0.2565 = 83.2 g.
  expect(acid.lineLowersByPercent).toBeCloseTo(5.26, 1);
});

test('a coarsely weighed acid counts as it is weighed: what is named does without it being weighed better by chance', () => {
  const acids = [{ acidKey: 'citric_acid', shareOfFatPercent: 2, strengthPercent: exactly(100) }];
  // 1.6 g of acid on a scale of whole grams: 2 g are weighed, and the lye is made for 2 g.
  const fatMassMg = 80_914;
  const { neededStepMg = 0, neededFatMassMg = 0 } = found({ ...OILS, acids }, fatMassMg, () => GRAM);
  expect(planLines({ ...OILS, acids }, CERTIFIED, fatMassMg, () => ({ ...GRAM, stepMg: neededStepMg })).safe).toBe(true);
  expect(planLines({ ...OILS, acids }, CERTIFIED, neededFatMassMg, () => GRAM).safe).toBe(true);
  expect([50, 1_300_000]).toEqual([neededStepMg, neededFatMassMg]);
});

test('where the tolerance of the fats alone is too much, nothing but the worst line is named', () => {
  // Low end weighed perfectly about 2.3 %; fats accepted at half a percent less take the other half point, on any scale.
  const recipe = { ...OILS, superfatFloorPercent: 2 };
  expect(Object.keys(found(recipe, 62_532, () => GRAM)).sort()).toEqual(['line', 'lineLowersByPercent', 'lineName']);
  expect(STEPS_MG.filter((stepMg) => planLines(recipe, CERTIFIED, 62_532, () => ({ ...GRAM, stepMg })).safe)).toEqual([]);
});

test('a plan without lines names none', () => {
  const planned = { ...planLines(OILS, CERTIFIED, 312_662, () => GRAM), lines: [] };
  const nothing = whatWouldDo(OILS, CERTIFIED, planned, () => GRAM);
  expect(nothing).toEqual({ line: '', lineName: '', lineLowersByPercent: 0 });
  expect(wordsOf(nothing)).toBe(' No finer scale and no larger batch is enough by itself.');
});

test('the words say the line, its points and only the ways there are', () => {
  const lye = { line: 'naoh', lineName: 'Sodium hydroxide', lineLowersByPercent: 3.268 };
  const most = ' Of the lines, Sodium hydroxide matters most: its weighing takes 3.3 points.';
  const plain = (words: string): string => words.replaceAll('\u00a0', ' ');
  expect(wordsOf(lye)).toBe(`${most} No finer scale and no larger batch is enough by itself.`);
  expect(plain(wordsOf({ ...lye, neededStepMg: 500 }))).toBe(`${most} On its own, a scale with steps of 0.5 g would do.`);
  expect(plain(wordsOf({ ...lye, neededFatMassMg: 470_000 }))).toBe(`${most} On its own, a batch of 470 g of fat would do.`);
  expect(plain(wordsOf({ ...lye, neededStepMg: 500, neededFatMassMg: 470_000 }))).toBe(
    `${most} On its own, a scale with steps of 0.5 g or a batch of 470 g of fat would do.`,
  );
});
