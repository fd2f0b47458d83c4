import type { CardStep } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { soundDraft } from '../../testing/drafts.ts';
import { planStation } from './plan-station.ts';
import { stepsFor } from './steps.ts';

const STATION = { name: 'Station 1', scaleStepMg: 100, scaleCapacityMg: 5_000_000, mouldName: 'Loaf', mouldVolumeMl: 1500 };
function plan(change: Parameters<typeof soundDraft>[0] = {}) {
  const planned = planStation(soundDraft(change), [], STATION);
  if (!planned.ok) throw new Error(JSON.stringify(planned.problems));
  return planned.value.plan;
}
const FULL = {
  fats: [
    { fatKey: 'olive', sharePercent: '70' },
    { fatKey: 'coconut', sharePercent: '30' },
  ],
  superfatPercent: '9',
  kohSharePercent: '40',
  liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '20' }],
  additives: [{ name: 'Oats', shareOfFatPercent: '2', limitPercent: '5' }],
};
const RICH = {
  ...FULL,
  superfatPercent: '12',
  fats: [
    { fatKey: 'olive', sharePercent: '60' },
    { fatKey: 'shea', sharePercent: '10', late: true },
    { fatKey: 'coconut', sharePercent: '30' },
  ],
  liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '20', intoFatsPercent: '60' }],
  acids: [{ acidKey: 'citric_acid', shareOfFatPercent: '2', strengthPercent: '99.5', strengthUncertainty: '0.5' }],
};
const RECIPES = {
  plain: {},
  full: FULL,
  'with acid, a late fat and milk in the fats': RICH,
  'without ice': { iceSharePercent: '0', lyeConcentrationPercent: '25' },
};
const kindOf = (step: CardStep) => step.lineKey?.split(':')[0] ?? step.kind;

test.each(Object.entries(RECIPES))('%s: every line of the plan is weighed exactly once, numbered without gap', (_name, change) => {
  const steps = stepsFor(plan(change));
  expect(steps.map((step) => step.no)).toEqual(steps.map((_, i) => i + 1));
  expect(steps.flatMap((step) => step.lineKey ?? []).sort()).toEqual(
    plan(change)
      .lines.map((line) => line.key)
      .sort(),
  );
});

test.each(Object.entries(RECIPES))('%s: all liquid is in the container before any lye, and lye goes into liquid', (_name, change) => {
  const kinds = stepsFor(plan(change)).map(kindOf);
  const firstLye = kinds.findIndex((kind) => kind === 'naoh' || kind === 'koh');
  for (const liquid of ['water', 'ice', 'liquid', 'acid', 'fat', 'additive']) expect(kinds.lastIndexOf(liquid), liquid).toBeLessThan(firstLye);
  const mix = stepsFor(plan(change)).find((step) => /lye to the liquid/.test(step.title))!;
  expect(mix.instruction).toMatch(/lye into the liquid/);
  expect(mix.instruction).toMatch(/Never pour liquid into lye/);
});

test.each(Object.entries(RECIPES))('%s: from the first opened lye to the end every step is caustic and cautioned; before it none is', (_name, change) => {
  const steps = stepsFor(plan(change));
  const first = steps.findIndex((step) => ['naoh', 'koh'].includes(kindOf(step)));
  expect(steps.map((step) => step.caustic)).toEqual(steps.map((_, i) => i >= first));
  for (const step of steps.slice(first)) expect(step.caution, step.title).toMatch(/\w{4}/);
  expect(steps.slice(-4).map((step) => step.kind)).toEqual(['do', 'temperature', 'label', 'clean']);
});

test('an acid is dissolved in the liquid that is there already; a late fat and liquid for the fats get cups of their own', () => {
  const steps = stepsFor(plan(RICH));
  const at = (key: string) => steps.findIndex((step) => step.lineKey === key);
  expect(at('acid:citric_acid')).toBeGreaterThan(at('water'));
  expect(at('acid:citric_acid')).toBeGreaterThan(at('liquid:goat_milk'));
  expect(at('fat:shea')).toBeGreaterThan(at('fat:coconut'));
  expect(steps[at('acid:citric_acid')]!.instruction).toMatch(/dissolve it in the liquid/);
  for (const key of ['fat:shea', 'liquid:goat_milk:fats']) expect(steps[at(key)]!.instruction, key).toMatch(/cup of its own/);
  expect(steps[at('liquid:goat_milk')]!.instruction).toMatch(/solution container/);
});

test('an acid’s lye is said to be on the card; a salt’s is not, for it has none', () => {
  const stepOf = (acidKey: string) => {
    const acids = [{ acidKey, shareOfFatPercent: '2', strengthPercent: '99.5', strengthUncertainty: '0.5' }];
    return stepsFor(plan({ ...RICH, acids })).find((step) => step.lineKey === `acid:${acidKey}`)!;
  };
  expect(stepOf('citric_acid')).toMatchObject({ reason: expect.stringMatching(/lye holds extra/), caution: expect.stringMatching(/Never put it into lye/) });
  expect(stepOf('salt')).toMatchObject({ reason: expect.stringMatching(/takes up no lye/), caution: null });
});

test('vinegar is for wiped surfaces, never for skin', () => {
  for (const step of stepsFor(plan(FULL))) {
    const words = `${step.instruction} ${step.caution ?? ''} ${step.reason}`;
    if (/vinegar/i.test(words)) expect(words).toMatch(/never for skin/i);
  }
});

test('a weigh step carries its line’s own range, the temperature step one above the estimate', () => {
  const made = plan(FULL);
  for (const step of stepsFor(made).filter((each) => each.kind === 'weigh')) {
    const line = made.lines.find((each) => each.key === step.lineKey)!;
    expect([step.targetMg, step.acceptLowMg, step.acceptHighMg]).toEqual([line.targetMg, line.acceptLowMg, line.acceptHighMg]);
  }
  const measured = stepsFor(made).find((step) => step.kind === 'temperature')!;
  expect(measured.highC).toBeGreaterThan(made.peak.temperatureC);
  expect(measured.highC! - made.peak.temperatureC).toBeLessThanOrEqual(6);
});
