import { describe, expect, it } from 'vitest';
import { batchVolumeMl } from './batch-volume.ts';
import { checkRecipe } from './check-recipe.ts';
import type { FormulationProblem } from './outcome.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE } from './testing.ts';

/* Refusals to the letter: a person acts on the sentence, and a page on its fields. Bounds are ours (common practice, no source). */
const refusals = (change: Partial<RecipeInput>): FormulationProblem[] => checkRecipe({ ...PLAIN_RECIPE, ...change }, CERTIFIED);
const sentences = (change: Partial<RecipeInput>): string[] => refusals(change).map((each) => each.detail);
const codes = (change: Partial<RecipeInput>): string[] => refusals(change).map((each) => `${each.code} ${each.pointer}`);
const strength = { low: 98, nominal: 99, high: 100 };
const citric = { acidKey: 'citric_acid', shareOfFatPercent: 1, strengthPercent: strength };
const milk = { liquidKey: 'goat_milk', shareOfWaterPercent: 50 };
const clay = { name: 'Clay', shareOfFatPercent: 2 };

describe('fats', () => {
  const olive = (sharePercent: number) => ({ fats: [{ fatKey: 'olive', sharePercent }] });

  it('says how much is missing or over, with the sum; 0.01 % either way passes', () => {
    expect(refusals(olive(95))).toMatchObject([{ code: 'fats-do-not-sum', detail: expect.stringContaining('add 5 % more'), fields: { sumPercent: 95 } }]);
    const over = { fats: [...PLAIN_RECIPE.fats, { fatKey: 'castor', sharePercent: 5 }] };
    expect(sentences(over)).toEqual(['The fats sum to 105 %; take 5 % away or change a share.']);
    expect(codes(olive(99.99))).toEqual([]);
    expect(codes(olive(99.98))).toEqual(['fats-do-not-sum /fats']);
  });

  it('says which fat is unknown or twice, in fields too', () => {
    const twice = {
      fats: [
        { fatKey: 'olive', sharePercent: 50 },
        { fatKey: 'olive', sharePercent: 50 },
      ],
    };
    expect(refusals(twice)).toMatchObject([{ code: 'fat-twice', pointer: '/fats/1/fatKey', fields: { fatKey: 'olive' } }]);
    expect(refusals({ fats: [{ fatKey: 'engine', sharePercent: 100 }] })).toMatchObject([{ code: 'fat-unknown', fields: { fatKey: 'engine' } }]);
  });

  it('takes one figure of the studio’s own for both ends, and refuses ends in the wrong order', () => {
    const own = (low: number, high: number, iodine = { low: 90, high: 90 }) => ({
      fats: [{ fatKey: 'own:1', sharePercent: 100, own: { name: 'Plum', saponificationValue: { low, high }, iodineValue: iodine } }],
    });
    expect(codes(own(190, 190))).toEqual([]);
    expect(sentences(own(195, 190))).toEqual(['The saponification value of Plum must run from low to high: 195 to 190.']);
    expect(codes(own(190, 195, { low: 95, high: 90 }))).toEqual(['value-out-of-range /fats/0/own/iodineValue']);
  });
});

describe('liquids', () => {
  it('says which liquid by its number, and how much is over', () => {
    expect(sentences({ liquids: [milk, { ...milk, liquidKey: 'coconut_milk', shareOfWaterPercent: 0 }] })[0]).toMatch(
      /^The water share of liquid 2 is 0 %; it must be from 0.1 % to 100 %/u,
    );
    expect(sentences({ liquids: [{ ...milk, intoFatsPercent: 101 }] })[0]).toMatch(/^The share of liquid 1 for the fats is 101 %/u);
    expect(refusals({ liquids: [milk, { liquidKey: 'coconut_milk', shareOfWaterPercent: 60 }] })).toMatchObject([
      { pointer: '/liquids', detail: 'The liquids supply 110 % of the water; take 10 % away.', fields: { sumPercent: 110 } },
    ]);
  });

  it('a pot that liquid for the fats leaves too strong is refused: 40 % with half its water away is 57.1 %, past 52 %', () => {
    // By hand: 40 of alkali, 60 of water, 30 of it in the fats: 40 / 70. At 33 %: 33 / (33 + 33.5) = 49.6 %, which dissolves.
    const half = { liquids: [{ ...milk, intoFatsPercent: 100 }] };
    expect(sentences({ ...half, lyeConcentrationPercent: 40 })[0]).toMatch(
      /^With 50 % of the water in the fats the lye pot is at 57.1 %: leave more liquid in it\. A lye concentration of 57.14 %/u,
    );
    expect(codes({ ...half, lyeConcentrationPercent: 40 })).toEqual(['concentration-past-solubility /liquids']);
    expect(codes({ ...half, lyeConcentrationPercent: 33 })).toEqual([]);
    expect(codes({ liquids: [{ ...milk, intoFatsPercent: 0 }], lyeConcentrationPercent: 40 })).toEqual([]);
    // Half potassium hydroxide dissolves a little more: 52.4 %; a pot past even that once is refused once.
    expect(codes({ ...half, lyeConcentrationPercent: 55 })).toEqual(['concentration-past-solubility /lyeConcentrationPercent']);
  });
});

describe('acids and additives', () => {
  it('each acid once, known, with a strength that rises and can be meant', () => {
    expect(codes({ acids: [citric] })).toEqual([]);
    expect(sentences({ acids: [citric, citric] })).toEqual(['Citric acid, anhydrous is listed twice; put its whole share in one line.']);
    expect(sentences({ acids: [citric, { ...citric, acidKey: 'battery', shareOfFatPercent: 0 }] })).toEqual([
      'The share of acid 2 is 0 %; it must be from 0.01 % to 10 %.',
      'There is no acid "battery" in the list; choose one of it.',
    ]);
    expect(codes({ acids: [{ ...citric, strengthPercent: { ...strength, low: 99.5 } }] })).toEqual(['value-out-of-range /acids/0/strengthPercent']);
    expect(codes({ acids: [{ ...citric, strengthPercent: { low: NaN, nominal: NaN, high: NaN } }] })).toEqual(['value-out-of-range /acids/0/strengthPercent']);
  });

  it('an additive without a name goes by its number; over its limit it says by how much', () => {
    expect(sentences({ additives: [clay, { name: ' ', shareOfFatPercent: 0 }] })).toEqual([
      'The share of additive 2 is 0 %; it must be from 0.001 % to 50 %.',
      'Additive 2 has no name; say what it is.',
    ]);
    expect(sentences({ additives: [{ ...clay, shareOfFatPercent: 51 }] })).toEqual(['The share of Clay is 51 %; it must be from 0.001 % to 50 %.']);
    expect(sentences({ additives: [{ ...clay, limitPercent: 1.5 }] })).toEqual(['Clay is 2 % of the fat; its limit is 1.5 %. Use 0.5 % less.']);
    expect(codes({ additives: [{ ...clay, limitPercent: 2 }] })).toEqual([]);
    expect(codes({ additives: [{ ...clay, limitPercent: 0 }] })).toEqual(['value-out-of-range /additives/0/limitPercent']);
    expect(codes({ additives: [{ ...clay, limitPercent: 101 }] })).toEqual(['value-out-of-range /additives/0/limitPercent']);
    expect(codes({ additives: [{ ...clay, densityGPerMl: 21 }] })).toEqual(['value-out-of-range /additives/0/densityGPerMl']);
  });

  it('a limit of temperature from 1 to 110 °C, where one is set; ice up to all of the water', () => {
    expect([1, 110].flatMap((peakLimitC) => codes({ peakLimitC }))).toEqual([]);
    expect([0, 111].flatMap((peakLimitC) => codes({ peakLimitC }))).toEqual(['value-out-of-range /peakLimitC', 'value-out-of-range /peakLimitC']);
    expect([100, 101, -1].flatMap((iceSharePercent) => codes({ iceSharePercent }))).toEqual([
      'ice-over-water /iceSharePercent',
      'value-out-of-range /iceSharePercent',
    ]);
  });
});

describe('the volume of the batter, by hand', () => {
  const NOTHING = { fats: [], naohMg: 0, kohMg: 0, waterMg: 0, dryMatterMg: 0, additives: [] };
  const ml = (part: Partial<Parameters<typeof batchVolumeMl>[0]>) => batchVolumeMl({ ...NOTHING, ...part });

  it('1 kg of 30 % lye at 40 °C: 1000 / 1.316 mL for NaOH (ICT, from memory), 1000 / 1.279 for KOH (20 °C less its expansion), the mean between', () => {
    const naoh = ml({ naohMg: 300_000, waterMg: 700_000 });
    const koh = ml({ kohMg: 300_000, waterMg: 700_000 });
    expect(Math.abs(naoh.nominal / (1000 / 1.316) - 1)).toBeLessThan(0.003);
    expect(Math.abs(koh.nominal / (1000 / 1.279) - 1)).toBeLessThan(0.006);
    const both = ml({ naohMg: 150_000, kohMg: 150_000, waterMg: 700_000 }).nominal;
    expect(both).toBeGreaterThan(naoh.nominal);
    expect(both).toBeLessThan(koh.nominal);
    // 0.5 % for the lye and 2 % for the model, each way.
    expect(naoh.low / naoh.nominal).toBeCloseTo(0.98 / 1.005, 6);
    expect(naoh.high / naoh.nominal).toBeCloseTo(1.02 / 0.995, 6);
  });
});
