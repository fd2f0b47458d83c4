import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { saponificationValueOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({ olive: fc.integer({ min: 20, max: 70 }), superfatPercent: fc.integer({ min: 3, max: 14 }), kohSharePercent: fc.constantFrom(0, 30, 100) })
  .map(({ olive, superfatPercent, kohSharePercent }) => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    superfatFloorPercent: 0,
    alkali: { kohSharePercent },
    fats: [
      { fatKey: 'olive', sharePercent: olive },
      { fatKey: 'coconut', sharePercent: 100 - olive },
    ],
  }));
const scales = fc.constantFrom(100, 500, 1000, 2000).map((stepMg) => ({ stepMg, capacityMg: 20_000_000 }));
const moulds = fc.integer({ min: 500, max: 6000 }).map((volumeMl) => ({ volumeMl }));
/** Where between its ends each error falls: 0 and 1 are the ends themselves. */
const places = fc.array(fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true })), { minLength: 12, maxLength: 12 });

/**
 * In-service limits of OIML R 76-1 class III, written here a second time: 1, 2 and 3 steps up to 500,
 * 2 000 and 10 000 steps; and half a step of rounding.
 */
function farthestOff(readingMg: number, stepMg: number): number {
  const divisions = readingMg / stepMg;
  return (divisions <= 500 ? 1.5 : divisions <= 2000 ? 2.5 : 3.5) * stepMg;
}

test.prop([recipes, scales, moulds, places])('the true superfat of any accepted weighing lies in the band', (recipe, scale, mould, place) => {
  const outcome = planWeighing(recipe, CERTIFIED, mould, scale);
  fc.pre(outcome.ok);
  const plan = outcome.value;
  let next = 0;
  const between = (low: number, high: number): number => low + (high - low) * (place[next++ % place.length] ?? 0);
  const within = (range: Interval): number => between(range.low, range.high);
  const trueMg = (key: string): number => {
    const line = plan.lines.find((each) => each.key === key);
    if (!line || line.targetMg / scale.stepMg > 9000) return line ? line.targetMg : 0;
    const steps = Math.round(between(line.acceptLowMg, line.acceptHighMg) / scale.stepMg);
    const reading = Math.min(line.acceptHighMg, Math.max(line.acceptLowMg, steps * scale.stepMg));
    const off = farthestOff(reading, scale.stepMg);
    return reading + between(-off, off);
  };
  const needMg = recipe.fats.reduce((sum, fat) => sum + (trueMg(`fat:${fat.fatKey}`) / 1000) * within(saponificationValueOf(fat)), 0);
  const metMg = (trueMg('naoh') * within(CERTIFIED.naohPercent) * 56.1053) / 39.9968 / 100 + (trueMg('koh') * within(CERTIFIED.kohPercent)) / 100;
  const superfat = 100 * (1 - metMg / needMg);
  expect(superfat).toBeGreaterThanOrEqual(plan.superfatBandPercent.low - 1e-3);
  expect(superfat).toBeLessThanOrEqual(plan.superfatBandPercent.high + 1e-3);
});

test.prop([recipes, scales, moulds])('the ends of the band are the two worst corners, reached and not passed', (recipe, scale, mould) => {
  const outcome = planWeighing(recipe, CERTIFIED, mould, scale);
  fc.pre(outcome.ok);
  const plan = outcome.value;
  fc.pre(plan.lines.every((line) => line.acceptHighMg / scale.stepMg < 10_000));
  const corner = (fatEnd: 'low' | 'high', alkaliEnd: 'low' | 'high'): number => {
    const trueMg = (key: string, end: 'low' | 'high'): number => {
      const line = plan.lines.find((each) => each.key === key);
      if (!line) return 0;
      const reading = end === 'low' ? line.acceptLowMg : line.acceptHighMg;
      return reading + (end === 'low' ? -1 : 1) * farthestOff(reading, scale.stepMg);
    };
    const needMg = recipe.fats.reduce((sum, fat) => sum + (trueMg(`fat:${fat.fatKey}`, fatEnd) / 1000) * saponificationValueOf(fat)[fatEnd], 0);
    const naohMg = (trueMg('naoh', alkaliEnd) * CERTIFIED.naohPercent[alkaliEnd] * 56.1053) / 39.9968 / 100;
    return 100 * (1 - (naohMg + (trueMg('koh', alkaliEnd) * CERTIFIED.kohPercent[alkaliEnd]) / 100) / needMg);
  };
  expect(plan.superfatBandPercent.low).toBeCloseTo(corner('low', 'high'), 3);
  expect(plan.superfatBandPercent.high).toBeCloseTo(corner('high', 'low'), 3);
});

test.prop([recipes, scales, moulds])(
  'no plan is given whose band reaches under its floor, and no alkali target passes the exact mass',
  (recipe, scale, mould) => {
    const outcome = planWeighing(recipe, CERTIFIED, mould, scale);
    fc.pre(outcome.ok);
    expect(outcome.value.superfatBandPercent.low).toBeGreaterThanOrEqual(recipe.superfatFloorPercent);
    expect(outcome.value.roundingEffectPercent).toBeGreaterThanOrEqual(-1e-3);
    for (const line of outcome.value.lines) {
      expect(line.targetMg % scale.stepMg).toBe(0);
      expect(line.acceptLowMg).toBeLessThanOrEqual(line.targetMg);
      expect(line.acceptHighMg).toBeGreaterThanOrEqual(line.targetMg);
      if (line.kind === 'naoh' || line.kind === 'koh') expect(line.targetMg).toBeLessThanOrEqual(line.exactMg);
    }
  },
);

test.prop([recipes, scales, moulds])('a refusal for the floor names an aim that passes', (recipe, scale, mould) => {
  const floored = { ...recipe, superfatFloorPercent: 1 };
  const refused = planWeighing(floored, CERTIFIED, mould, scale);
  const problem = refused.ok ? undefined : refused.problems.find((each) => each.code === 'superfat-band-below-floor');
  fc.pre(problem !== undefined && !refused.ok && refused.problems.length === 1);
  const raised = { ...floored, superfatPercent: Number(problem?.fields?.neededAimPercent) };
  const again = planWeighing(raised, CERTIFIED, mould, scale);
  expect(again.ok ? [] : again.problems.map((each) => each.code)).not.toContain('superfat-band-below-floor');
});
