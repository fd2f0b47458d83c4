import { expect, test } from 'vitest';
import type { RecipeInput } from './recipe.ts';
import type { NextAct } from './recompute.ts';
import { recompute } from './recompute.ts';
import { CERTIFIED, codesOf, PLAIN_RECIPE, valueOf } from './testing.ts';
import type { PlanLine } from './weigh-line.ts';
import { planWeighing } from './weigh-plan.ts';

/** Fine enough for a new target to show after 2 g of oil. */
const SCALE = { stepMg: 100, capacityMg: 5_000_000 };
const RICH: RecipeInput = {
  ...PLAIN_RECIPE,
  liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 20, intoFatsPercent: 50 }],
  additives: [{ name: 'Clay', shareOfFatPercent: 2 }],
  acids: [{ acidKey: 'citric_acid', shareOfFatPercent: 1, strengthPercent: { low: 100, nominal: 100, high: 100 } }],
};
const DUAL: RecipeInput = { ...PLAIN_RECIPE, alkali: { kohSharePercent: 40 } };

function card(recipe: RecipeInput) {
  const { lines } = valueOf(planWeighing(recipe, CERTIFIED, { volumeMl: 1300 }, SCALE));
  const line = (key: string): PlanLine => lines.find((each) => each.key === key)!;
  /** Every line read at its target, or at the reading given, mg; null is not weighed. */
  const after = (readingsMg: Record<string, number | null>, inPot: string[] = [], roomMl?: number) => {
    const readings = lines.flatMap(({ key, targetMg }) => {
      const readingMg = readingsMg[key] === undefined ? targetMg : readingsMg[key];
      return readingMg === null ? [] : [{ key, readingMg, mixed: inPot.includes(key) }];
    });
    return recompute({ recipe, purity: CERTIFIED, lines, scale: SCALE, readings, ...(roomMl === undefined ? {} : { roomMl }) });
  };
  const act = (...given: Parameters<typeof after>): NextAct => valueOf(after(...given));
  return { lines, line, after, act };
}
const plain = card(PLAIN_RECIPE);
const rich = card(RICH);
const dual = card(DUAL);
const short = (act: NextAct) => act.lines.map(({ key, does, of, changeMg }) => `${does} ${of} ${key} ${changeMg}`);

test('the room of a mould is from 20 mL to a cubic metre, else refused at its field', () => {
  const at = (roomMl: number) => codesOf(plain.after({}, [], roomMl));
  expect([at(20), at(1_000_000)]).toEqual([[], []]);
  for (const roomMl of [19.9, 1_000_001, NaN]) expect(at(roomMl)).toEqual(['value-out-of-range /roomMl']);
});

test('what is not weighed yet is weighed as planned, each line once', () => {
  const nothing = Object.fromEntries(rich.lines.map((line) => [line.key, null]));
  const act = rich.act(nothing);
  expect(act.act).toBe('go on');
  expect(short(act).sort()).toEqual(rich.lines.map((line) => `weigh whole ${line.key} ${line.targetMg}`).sort());
});

test('oil anywhere in its accepted range, both ends included, leaves the lye target as it is; a step past it does not', () => {
  const oil = plain.line('fat:olive');
  const lye = plain.line('naoh');
  const after = (readingMg: number, inPot: string[] = []) => short(plain.act({ 'fat:olive': readingMg, naoh: null }, inPot));
  expect(oil.acceptHighMg - oil.targetMg).toBeGreaterThanOrEqual(2000);
  for (const readingMg of [oil.acceptLowMg, oil.targetMg, oil.acceptHighMg]) expect(after(readingMg)).toEqual([`weigh whole naoh ${lye.targetMg}`]);
  // A step past the range is about 2.2 g of oil, which need 0.27 g of lye by hand (190 mg/g, 8 % left): two or three steps of 0.1 g.
  const [line] = plain.act({ 'fat:olive': oil.acceptHighMg + 100, naoh: null }).lines;
  expect(line?.does).toBe('new target');
  expect([200, 300]).toContain((line?.targetMg ?? 0) - lye.targetMg);
});

test('the same holds for an acid', () => {
  const { targetMg, acceptLowMg, acceptHighMg } = rich.line('acid:citric_acid');
  const does = (readingMg: number) => rich.act({ 'acid:citric_acid': readingMg, naoh: null }).lines[0]?.does;
  expect([acceptLowMg, targetMg, acceptHighMg].map(does)).toEqual(['weigh', 'weigh', 'weigh']);
  expect([does(acceptLowMg - 500), does(acceptHighMg + 500)]).toEqual(['new target', 'new target']);
});

test('with one alkali in the pot as planned the other keeps its target; what was too much of it comes off the other', () => {
  const lye = dual.line('naoh');
  const koh = dual.line('koh').targetMg;
  const after = (readingMg: number) => dual.act({ koh: readingMg, naoh: null }, ['koh']).lines;
  expect(after(koh)).toMatchObject([{ key: 'naoh', does: 'weigh', targetMg: lye.targetMg }]);
  // Short of it is never made up for: dry lye is not opened again over a hot pot.
  expect(after(koh - 5000)).toMatchObject([{ key: 'naoh', does: 'weigh', targetMg: lye.targetMg }]);
  // 1 g of KOH at 90 % is 0.9 x 39.997 / 56.105 / 0.99 = 0.65 g of NaOH at 99 %; 5 g are 3.2 g.
  expect(after(koh + 1000)).toMatchObject([{ key: 'naoh', does: 'new target' }]);
  expect([600, 700, 800]).toContain(lye.targetMg - (after(koh + 1000)[0]?.targetMg ?? 0));
  expect(Math.abs(lye.targetMg - (after(koh + 5000)[0]?.targetMg ?? 0) - 3240)).toBeLessThanOrEqual(150);
});

test('lye at the low end of its range is not topped up, a step under it is', () => {
  const { acceptLowMg, targetMg } = plain.line('naoh');
  expect(short(plain.act({ naoh: acceptLowMg }))).toEqual([]);
  expect(short(plain.act({ naoh: acceptLowMg - 100 }))).toEqual([`add whole naoh ${targetMg - acceptLowMg + 100}`]);
});

test('oil at the low end of its range is not topped up; in the pot the addition brings the superfat back', () => {
  const { acceptLowMg, targetMg } = plain.line('fat:coconut');
  expect(short(plain.act({ 'fat:coconut': acceptLowMg }))).toEqual([]);
  const act = plain.act({ 'fat:coconut': targetMg - 20_000 }, ['fat:coconut']);
  expect(short(act)).toEqual(['add addition fat:coconut 20000']);
  expect(act.superfatBandPercent.nominal).toBeCloseTo(plain.act({}).superfatBandPercent.nominal, 6);
});

test('water, ice and milk follow the lye in proportion past two parts in a hundred; acid and clay never do', () => {
  const unweighed = Object.fromEntries(
    ['naoh', 'water', 'ice', 'liquid:goat_milk', 'liquid:goat_milk:fats', 'acid:citric_acid', 'additive:0'].map((key) => [key, null]),
  );
  const olive = rich.line('fat:olive').targetMg;
  const far = rich.act({ ...unweighed, 'fat:olive': olive + 100_000 });
  const target = (key: string) => far.lines.find((line) => line.key === key)?.targetMg ?? NaN;
  const ratio = target('naoh') / rich.line('naoh').targetMg;
  // 100 g of olive oil more in about 880 g of fat: about a tenth more lye.
  expect(ratio).toBeGreaterThan(1.08);
  expect(ratio).toBeLessThan(1.13);
  for (const key of ['water', 'ice', 'liquid:goat_milk', 'liquid:goat_milk:fats']) {
    expect(Math.abs(target(key) - rich.line(key).targetMg * ratio)).toBeLessThanOrEqual(50);
  }
  for (const key of ['acid:citric_acid', 'additive:0']) expect(short(far)).toContain(`weigh whole ${key} ${rich.line(key).targetMg}`);
  // 10 g of oil are a hundredth: the lye has a new target, the water has not.
  const near = rich.act({ ...unweighed, 'fat:olive': olive + 10_000 });
  expect(near.lines.filter((line) => line.does === 'new target').map((line) => line.key)).toEqual(['naoh']);
});

test('once lye is in the pot the milk for the fats is still weighed, the milk for the pot is not', () => {
  const act = rich.act({ 'liquid:goat_milk': null, 'liquid:goat_milk:fats': null, 'acid:citric_acid': null, 'additive:0': null }, ['naoh']);
  const stirredIn = act.lines.filter((line) => line.kind !== 'fat').map((line) => line.key);
  expect(stirredIn).toEqual(['liquid:goat_milk:fats', 'additive:0']);
});

test('too little water for the lye is made up in its cups, line by line, beside what else is short', () => {
  const [water, ice, coconut] = [plain.line('water').targetMg, plain.line('ice').targetMg, plain.line('fat:coconut').targetMg];
  const act = plain.act({ water: 10_000, ice: 20_000, 'fat:coconut': coconut - 20_000 });
  expect(short(act)).toEqual(['add whole fat:coconut 20000', `add whole water ${water - 10_000}`, `add whole ice ${ice - 20_000}`]);
  // Milk too; what is not weighed yet is only weighed, and an acid or clay that is short is no water.
  const milk = rich.line('liquid:goat_milk').targetMg;
  const sour = rich.act({ water: null, ice: 1000, 'liquid:goat_milk': 1000, 'additive:0': 1000 });
  expect(sour.lines.filter((line) => line.does === 'add').map((line) => line.key)).not.toContain('additive:0');
  expect(sour.lines.filter((line) => line.key === 'water').map((line) => line.does)).toEqual(['weigh']);
  const dry = rich.act({ water: 1000, ice: 1000, 'liquid:goat_milk': 1000, 'additive:0': 1000 });
  expect(short(dry)).toContain(`add whole liquid:goat_milk ${milk - 1000}`);
  expect(dry.lines.map((line) => line.key).sort()).toEqual(['ice', 'liquid:goat_milk', 'water']);
});

test('how strong a pot may be is judged by its alkali: 109 g of NaOH or 112 g of KOH dissolve in 100 g of water at 20 °C (sources in solubility.ts)', () => {
  const strong = ({ act, line }: typeof plain, key: string, percent: number) => {
    const water = (line(key).targetMg * (100 - percent)) / percent;
    return act({ water: Math.round(water), ice: null }, [key]);
  };
  const potash = card({ ...PLAIN_RECIPE, alkali: { kohSharePercent: 100 } });
  // By hand: 109 / 209 = 52.15 % and 112 / 212 = 52.83 %.
  expect(strong(plain, 'naoh', 52).act).toBe('go on');
  expect(strong(plain, 'naoh', 52.5).words).toMatch(/too little water for the alkali to dissolve/u);
  expect(strong(potash, 'koh', 52.5).act).toBe('go on');
  expect(strong(potash, 'koh', 53).words).toMatch(/too little water for the alkali to dissolve/u);
});

test('a discard says why: not even as much fat again would do', () => {
  const act = plain.act({ naoh: plain.line('naoh').targetMg * 2.5 }, ['naoh']);
  expect(act.words).toMatch(/by the supplier's safety data sheet and local rules\. More fat than the batch itself would be needed\.$/u);
});
