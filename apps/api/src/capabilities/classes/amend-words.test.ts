import { describe, expect, test } from 'vitest';
import { sampleCard } from '../../testing/print-samples.ts';
import { lostWork, planChanges, setUpChanges } from './amend-words.ts';

const BENCH = {
  scaleStepMg: 1000,
  scaleCapacityMg: 5_000_000,
  mouldName: 'Loaf',
  mouldVolumeMl: 1100,
  verificationIntervalMg: null,
  accuracyClass: null,
  lyeScaleStepMg: null,
  lyeScaleCapacityMg: null,
  potMaterial: null,
  potVolumeMl: null,
};
const line = (key: string, targetMg: number) => ({ key, name: key, targetMg, stepMg: 1000 });
const PLAN = {
  recipeTitle: 'Bar',
  recipeVersionNumber: 1,
  lots: [{ substance: 'NaOH', lotNumber: 'L-1' }],
  lines: [line('Olive oil', 480_000), line('Water', 108_000)],
};
const plain = (words: string[]) => words.map((each) => each.replaceAll('\u00a0', ' '));

describe('what an amended card says otherwise', () => {
  test('nothing where nothing is', () => {
    expect(setUpChanges(BENCH, { ...BENCH })).toEqual([]);
    expect(planChanges(PLAN, { ...PLAN })).toEqual([]);
  });

  test('each thing of the bench, and what is not known is said so', () => {
    const after = { ...BENCH, scaleStepMg: 100, mouldVolumeMl: 1500, potMaterial: 'pp' };
    expect(plain(setUpChanges(BENCH, after))).toEqual([
      'Scale step: 0.1 g, before: 1 g',
      'Mould volume: 1500 mL, before: 1100 mL',
      'Material of the container for lye: pp, before: not known',
    ]);
  });

  test('recipe, lot, each other mass, lines that come and lines that go', () => {
    const after = { ...PLAN, recipeVersionNumber: 2, lots: [], lines: [line('Olive oil', 500_000), line('Ice', 50_000)] };
    expect(plain(planChanges(PLAN, after))).toEqual([
      'Recipe: Bar, version 2, before: Bar, version 1',
      'Lot: none, before: L-1',
      'Olive oil: 500 g, before: 480 g',
      'Ice: 50 g, new on the card',
      'Water: not on the card any more',
    ]);
  });
});

describe('what is lost', () => {
  const card = sampleCard({ n: 1 });
  const caustic = card.content.steps.find((step) => step.caustic)!;
  const calm = card.content.steps.find((step) => !step.caustic)!;
  const none = { doneNos: new Set<number>(), readNos: new Set<number>() };

  test('nothing while only oils and water were weighed', () => {
    expect(lostWork(card, none)).toBeNull();
    expect(lostWork(card, { doneNos: new Set([calm.no]), readNos: new Set([calm.no]) })).toBeNull();
  });

  test('caustic that is weighed but whose step is not finished counts as well as a finished step', () => {
    for (const standing of [
      { ...none, doneNos: new Set([caustic.no]) },
      { ...none, readNos: new Set([caustic.no]) },
    ])
      expect(lostWork(card, standing)).toContain(`caustic at work (step ${caustic.no})`);
  });
});
