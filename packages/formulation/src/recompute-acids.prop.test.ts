import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { recompute } from './recompute.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';
import type { PlanLine } from './weigh-line.ts';
import { planWeighing } from './weigh-plan.ts';

const OWN = { name: 'Our tallow', saponificationValue: { low: 190, high: 202 } };
/** An acid, an own fat, a late fat and milk partly in the fats, one alkali or two. */
const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({
    superfatPercent: fc.integer({ min: 8, max: 16 }),
    kohSharePercent: fc.constantFrom(0, 40, 100),
    shareOfFatPercent: fc.integer({ min: 2, max: 5 }),
    intoFatsPercent: fc.constantFrom(0, 60, 100),
  })
  .map(({ superfatPercent, kohSharePercent, shareOfFatPercent, intoFatsPercent }) => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    lyeConcentrationPercent: 30,
    alkali: { kohSharePercent },
    fats: [
      { fatKey: 'olive', sharePercent: 70 },
      { fatKey: 'own:1', sharePercent: 20, own: OWN },
      { fatKey: 'coconut', sharePercent: 10, late: true },
    ],
    liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 30, intoFatsPercent }],
    acids: [{ acidKey: 'citric_acid', shareOfFatPercent, strengthPercent: { low: 97, nominal: 98, high: 99 } }],
  }));
const steps = fc.constantFrom(100, 500, 1000);
const deeds = fc.array(
  fc.record({ how: fc.constantFrom('not weighed', 'cup', 'pot' as const), share: fc.oneof(fc.constant(1), fc.double({ min: 0.3, max: 1.6, noNaN: true })) }),
  { minLength: 10, maxLength: 10 },
);
const places = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 30, maxLength: 30 });

/** Least and greatest value, mg/g: olive CXS 33-1981, coconut CXS 210-1999, our tallow as entered. */
const TRUE_SV: Record<string, readonly [number, number]> = { 'fat:olive': [184, 196], 'fat:own:1': [190, 202], 'fat:coconut': [248, 265] };
/** g/mol, IUPAC/CIAAW 2021; citric acid has three acid groups. */
const [NAOH, KOH, CITRIC_PER_GROUP] = [39.99677, 56.1053, 192.123 / 3];

/** In-service limits of OIML R 76-1 class III with e = step, and half a step of rounding, mg. */
function farthestOff(readingMg: number, stepMg: number): number {
  const divisions = readingMg / stepMg;
  const limit = divisions <= 500 ? 1 : divisions <= 2000 ? 2 : divisions <= 10_000 ? 3 : (3 * divisions) / 10_000;
  return (limit + 0.5) * stepMg;
}

/** Where something falls between its ends, 0 to 1; `up` is 1 when more of it means more free alkali. */
type Place = (up: 0 | 1) => number;
const isLye = (key: string): boolean => key === 'naoh' || key === 'koh';

function trueSuperfat(mg: (key: string) => number, placeOf: Place): number {
  const within = (low: number, high: number, up: 0 | 1): number => low + (high - low) * placeOf(up);
  const { naohPercent, kohPercent } = CERTIFIED;
  const hydroxide = (mg('naoh') * within(naohPercent.low, naohPercent.high, 1)) / NAOH + (mg('koh') * within(kohPercent.low, kohPercent.high, 1)) / KOH;
  const taken = (mg('acid:citric_acid') * within(97, 99, 0)) / CITRIC_PER_GROUP;
  const need = Object.entries(TRUE_SV).reduce((sum, [key, [low, high]]) => sum + (mg(key) * within(low, high, 0)) / 1000 / KOH, 0);
  return 100 * (1 - (hydroxide - taken) / 100 / need);
}

type Made = { key: string; readingMg: number; mixed: boolean };

/** True mass of each line after the act; what is neither read nor asked for is not there. */
function trueMasses(made: readonly Made[], asked: readonly (PlanLine & { of: string })[], stepMg: number, placeOf: Place): (key: string) => number {
  const masses = new Map<string, number>();
  const truth = (key: string, readingMg: number): number => Math.max(0, readingMg + (2 * placeOf(isLye(key) ? 1 : 0) - 1) * farthestOff(readingMg, stepMg));
  for (const { key, readingMg } of made) masses.set(key, truth(key, readingMg));
  for (const { key, acceptLowMg, acceptHighMg, targetMg, of } of asked) {
    const range = Math.round((acceptHighMg - acceptLowMg) / stepMg);
    const readingMg = acceptLowMg + Math.round(range * placeOf(isLye(key) ? 1 : 0)) * stepMg;
    const weighedMg = targetMg === 0 ? 0 : truth(key, readingMg);
    masses.set(key, of === 'addition' ? (masses.get(key) ?? 0) + weighedMg : weighedMg);
  }
  return (key) => masses.get(key) ?? 0;
}

test.prop([recipes, steps, deeds, places], { numRuns: 2000 })(
  'with acid, own and late fat and split milk: no act leads under the floor, and nothing but alkali or fat is asked for once lye is in the pot',
  (recipe, stepMg, done, place) => {
    const planned = planWeighing(recipe, CERTIFIED, { volumeMl: 2500 }, { stepMg, capacityMg: 20_000_000 });
    fc.pre(planned.ok);
    const { lines } = planned.value;
    const made = lines.flatMap((line, index): Made[] => {
      const deed = done[index % done.length];
      if (!deed || deed.how === 'not weighed') return [];
      return [{ key: line.key, readingMg: Math.round((line.targetMg * deed.share) / stepMg) * stepMg, mixed: deed.how === 'pot' }];
    });
    const act = valueOf(recompute({ recipe, purity: CERTIFIED, lines, scale: { stepMg, capacityMg: 20_000_000 }, readings: made }));
    if (act.act === 'discard') {
      expect(made.some((each) => each.mixed)).toBe(true);
      return;
    }
    let next = 0;
    for (const placeOf of [(up: 0 | 1) => up, () => place[next++ % place.length] ?? 0]) {
      // 0.001: molar masses and reading limits are typed a second time here.
      expect(trueSuperfat(trueMasses(made, act.lines, stepMg, placeOf), placeOf)).toBeGreaterThanOrEqual(recipe.superfatFloorPercent - 1e-3);
    }
    if (!made.some((each) => each.mixed && isLye(each.key))) return;
    for (const line of act.lines) {
      expect(['fat', 'naoh', 'koh', 'additive', 'fats']).toContain(line.into ?? line.kind);
      const original = lines.find((each) => each.key === line.key);
      if (isLye(line.key)) expect(line.targetMg).toBeLessThanOrEqual(original?.targetMg ?? 0);
    }
  },
);
