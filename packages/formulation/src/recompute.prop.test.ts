import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { saponificationValueOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import type { NextAct } from './recompute.ts';
import { recompute } from './recompute.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';
import type { PlanLine } from './weigh-line.ts';
import { planWeighing } from './weigh-plan.ts';
import type { MadeReading } from './weighing-state.ts';

const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({ olive: fc.integer({ min: 20, max: 70 }), superfatPercent: fc.integer({ min: 6, max: 12 }), kohSharePercent: fc.constantFrom(0, 40, 100) })
  .map(({ olive, superfatPercent, kohSharePercent }) => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    alkali: { kohSharePercent },
    fats: [
      { fatKey: 'olive', sharePercent: olive },
      { fatKey: 'coconut', sharePercent: 100 - olive },
    ],
  }));
const scales = fc.constantFrom(100, 500, 1000).map((stepMg) => ({ stepMg, capacityMg: 20_000_000 }));
const moulds = fc.integer({ min: 900, max: 4000 }).map((volumeMl) => ({ volumeMl }));

/** What somebody did to each line: not weighed, or weighed to some share of its target, in its cup or in the pot. */
const deeds = fc.array(
  fc.record({
    how: fc.constantFrom('not weighed', 'cup', 'pot' as const),
    share: fc.oneof(fc.constant(1), fc.double({ min: 0.97, max: 1.03, noNaN: true }), fc.double({ min: 0.3, max: 1.8, noNaN: true })),
  }),
  { minLength: 8, maxLength: 8 },
);
const places = fc.array(fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true })), { minLength: 30, maxLength: 30 });
const rooms = fc.constantFrom(undefined, 1, 1.1, 3);

/** In-service limits of OIML R 76-1 class III, written a second time, and half a step of rounding. */
function farthestOff(readingMg: number, stepMg: number): number {
  const divisions = readingMg / stepMg;
  const limit = divisions <= 500 ? 1 : divisions <= 2000 ? 2 : divisions <= 10_000 ? 3 : (3 * divisions) / 10_000;
  return (limit + 0.5) * stepMg;
}

function readingsOf(lines: readonly PlanLine[], done: readonly { how: string; share: number }[]): MadeReading[] {
  return lines.flatMap((line, index) => {
    const deed = done[index % done.length];
    if (!deed || deed.how === 'not weighed') return [];
    const readingMg = Math.round((line.targetMg * deed.share) / line.stepMg) * line.stepMg;
    return [{ key: line.key, readingMg, mixed: deed.how === 'pot' }];
  });
}

/** Where in a range something falls, 0 to 1; `up` is +1 when more of the line means more alkali. */
type Place = (up: 1 | -1) => number;

/** True masses after the act: each reading, made or still to be made, wrong by up to its limit. */
function trueMasses(act: NextAct, readings: readonly MadeReading[], stepMg: number, placeOf: Place): Map<string, number> {
  const masses = new Map<string, number>();
  const between = (key: string, low: number, high: number): number => low + (high - low) * placeOf(key.startsWith('fat:') ? -1 : 1);
  const truth = (key: string, readingMg: number): number => Math.max(0, readingMg + between(key, -1, 1) * farthestOff(readingMg, stepMg));
  for (const reading of readings) masses.set(reading.key, truth(reading.key, reading.readingMg));
  for (const { key, acceptLowMg, acceptHighMg, targetMg, of } of act.lines) {
    const steps = Math.round(between(key, acceptLowMg, acceptHighMg) / stepMg);
    const weighedMg = targetMg === 0 ? 0 : truth(key, Math.min(acceptHighMg, Math.max(acceptLowMg, steps * stepMg)));
    masses.set(key, of === 'addition' ? (masses.get(key) ?? 0) + weighedMg : weighedMg);
  }
  return masses;
}

function trueSuperfat(recipe: RecipeInput, masses: ReadonlyMap<string, number>, placeOf: Place): number {
  const mass = (key: string): number => masses.get(key) ?? 0;
  const within = (range: Interval, up: 1 | -1): number => range.low + (range.high - range.low) * placeOf(up);
  const need = recipe.fats.reduce((sum, fat) => sum + (mass(`fat:${fat.fatKey}`) / 1000) * within(saponificationValueOf(fat), -1), 0);
  const met = (mass('naoh') * within(CERTIFIED.naohPercent, 1) * 56.1053) / 39.9968 / 100 + (mass('koh') * within(CERTIFIED.kohPercent, 1)) / 100;
  return 100 * (1 - met / need);
}

test.prop([recipes, scales, moulds, deeds, places, rooms, fc.boolean()], { numRuns: 500 })(
  'whatever was weighed, the act leads to no true superfat under the floor',
  (plain, scale, mould, done, place, room, tight) => {
    const planned = planWeighing(plain, CERTIFIED, mould, scale);
    fc.pre(planned.ok);
    // A floor that the plan only just keeps to leaves no slack for a slip in the arithmetic to hide in.
    const recipe = tight ? { ...plain, superfatFloorPercent: planned.value.superfatBandPercent.low - 1e-6 } : plain;
    const { lines } = planned.value;
    const readings = readingsOf(lines, done);
    const act = valueOf(recompute({ recipe, purity: CERTIFIED, lines, scale, readings, ...(room === undefined ? {} : { roomMl: room * mould.volumeMl }) }));
    expect(JSON.stringify(act)).not.toContain('null');
    if (act.act === 'discard') {
      // Only what is in the pot is beyond help.
      expect(readings.some((reading) => reading.mixed)).toBe(true);
      return;
    }
    let next = 0;
    const anywhere: Place = () => place[next++ % place.length] ?? 0;
    const worst: Place = (up) => (up === 1 ? 1 : 0);
    for (const placeOf of [worst, anywhere]) {
      const superfat = trueSuperfat(recipe, trueMasses(act, readings, scale.stepMg, placeOf), placeOf);
      expect(superfat).toBeGreaterThanOrEqual(recipe.superfatFloorPercent - 1e-3);
    }
    const alkaliInPot = readings.some((reading) => reading.mixed && !reading.key.includes(':'));
    const shortInPot = lines.filter((line) => readings.some((reading) => reading.mixed && reading.key === line.key && reading.readingMg < line.acceptLowMg));
    // Fat goes on top of the pot only against alkali in it, or where that fat itself fell short.
    for (const line of act.lines) {
      if (line.kind === 'fat' && line.of === 'addition' && !alkaliInPot) expect(shortInPot.map((each) => each.key)).toContain(line.key);
    }
    expect(act.superfatBandPercent.low).toBeGreaterThanOrEqual(recipe.superfatFloorPercent);
    for (const line of act.lines)
      expect([line.acceptLowMg <= line.targetMg, line.targetMg <= line.acceptHighMg, line.targetMg % scale.stepMg]).toEqual([true, true, 0]);
  },
);

test.prop([recipes, scales, moulds, places])('readings within their ranges never change the plan', (recipe, scale, mould, place) => {
  const planned = planWeighing(recipe, CERTIFIED, mould, scale);
  fc.pre(planned.ok);
  const { lines } = planned.value;
  const readings = lines.map((line, index) => {
    const low = Math.ceil(line.acceptLowMg / line.stepMg);
    const high = Math.floor(line.acceptHighMg / line.stepMg);
    return { key: line.key, readingMg: Math.round(low + (high - low) * (place[index] ?? 0)) * line.stepMg, mixed: index % 2 === 0 };
  });
  const act = valueOf(recompute({ recipe, purity: CERTIFIED, lines, scale, readings }));
  expect(act).toMatchObject({ act: 'go on', lines: [] });
  expect(act.superfatBandPercent.low).toBeGreaterThanOrEqual(planned.value.superfatBandPercent.low - 1e-9);
});
