import { expect, test } from 'vitest';
import type { RecipeInput } from './recipe.ts';
import { recompute } from './recompute.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';
import type { PlanLine } from './weigh-line.ts';

const SCALE = { stepMg: 1000, capacityMg: 5_000_000 };
const SOUR: RecipeInput = {
  ...PLAIN_RECIPE,
  superfatPercent: 12,
  acids: [{ acidKey: 'citric_acid', shareOfFatPercent: 3, strengthPercent: { low: 99, nominal: 99.5, high: 100 } }],
};

/** What recompute says after every line was read as planned but those that `read` changes; null: not weighed. */
function after(recipe: RecipeInput, inPot: (line: PlanLine) => boolean, read: (line: PlanLine) => number | null) {
  const { lines } = valueOf(planWeighing(recipe, CERTIFIED, { volumeMl: 1300 }, SCALE));
  const readings = lines.flatMap((line) => {
    const readingMg = read(line);
    return readingMg === null ? [] : [{ key: line.key, readingMg, mixed: inPot(line) }];
  });
  const act = valueOf(recompute({ recipe, purity: CERTIFIED, lines, scale: SCALE, readings }));
  const target = (key: string): number => lines.find((line) => line.key === key)?.targetMg ?? 0;
  return { act, target, next: (key: string) => act.lines.find((line) => line.key === key) };
}
const solution = (line: PlanLine): boolean => line.kind !== 'fat' && line.kind !== 'additive';

test('an acid that came out 10 g short before the lye: 6.3 g less lye, 3 x 39.997 / 192.124 of it at 99 %', () => {
  const short = after(
    SOUR,
    (line) => line.kind === 'acid',
    (line) => (line.kind === 'naoh' ? null : line.targetMg - (line.kind === 'acid' ? 10_000 : 0)),
  );
  expect(short.act.act).toBe('new target');
  expect([6000, 7000]).toContain(short.target('naoh') - (short.next('naoh')?.targetMg ?? 0));
});

test('a forgotten acid is weighed while there is no lye in the pot; after it only fat can take up its share', () => {
  const forgotten = (line: PlanLine): number | null => (line.kind === 'acid' ? null : line.targetMg);
  expect(after(SOUR, () => false, forgotten).act.lines).toMatchObject([{ key: 'acid:citric_acid', does: 'weigh' }]);
  const { act } = after(SOUR, solution, forgotten);
  expect(act.lines.length).toBeGreaterThan(0);
  expect(act.lines.every((line) => line.kind === 'fat' && line.of === 'addition')).toBe(true);
  expect(act.superfatBandPercent.low).toBeGreaterThanOrEqual(SOUR.superfatFloorPercent);
});

test('a forgotten acid with the second alkali still to weigh: that one gets a lower target', () => {
  const dual = { ...SOUR, alkali: { kohSharePercent: 60 } };
  const lowered = after(
    dual,
    (line) => line.kind === 'naoh',
    (line) => (line.kind === 'acid' || line.kind === 'koh' ? null : line.targetMg),
  );
  expect(lowered.next('acid:citric_acid')).toBeUndefined();
  expect(lowered.next('koh')).toMatchObject({ does: 'new target' });
  expect(lowered.next('koh')?.targetMg).toBeLessThan(lowered.target('koh'));
});

test('of two alkalis the one in the pot fell short: the other keeps its target and does not make up for it', () => {
  const dual = { ...PLAIN_RECIPE, alkali: { kohSharePercent: 40 } };
  const short = after(
    dual,
    (line) => line.kind === 'naoh',
    (line) => (line.kind === 'koh' ? null : line.targetMg - (line.kind === 'naoh' ? 12_000 : 0)),
  );
  expect(short.next('koh')).toMatchObject({ does: 'weigh', targetMg: short.target('koh') });
});

test('what dissolves is judged by the pot: 16 g of water too little are too little where half of it is milk in the fats', () => {
  const split = { ...PLAIN_RECIPE, liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 50, intoFatsPercent: 100 }] };
  // Half the water: 49.6 % in the pot; 16 of about 58 g short take it past 52 % (109 g in 100 g water, 20 C).
  const short = after(
    split,
    () => false,
    (line) => line.targetMg - (line.kind === 'water' ? 16_000 : 0),
  );
  expect(short.next('water')).toMatchObject({ does: 'add', of: 'whole' });
});
