import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { formulate } from './formulate.ts';
import { liquidByKey } from './liquids.ts';
import { massOf } from './masses.ts';
import type { Purity, RecipeInput } from './recipe.ts';
import { errorLimitMg } from './scale-error.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';
import type { PlanLine } from './weigh-line.ts';
import { planWeighing } from './weigh-plan.ts';

// Everything a recipe can hold at once: an acid, a fat of the studio's own, a late fat, milk partly in the fats.

const OWN = { name: 'Our tallow', saponificationValue: { low: 190, high: 202 } };
const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({
    own: fc.integer({ min: 5, max: 40 }),
    late: fc.integer({ min: 3, max: 15 }),
    acidKey: fc.constantFrom('citric_acid', 'citric_acid_monohydrate', 'lactic_acid', 'sodium_bicarbonate'),
    acidShare: fc.integer({ min: 1, max: 40 }).map((tenths) => tenths / 10),
    strength: fc.integer({ min: 80, max: 99 }),
    intoFatsPercent: fc.integer({ min: 0, max: 100 }),
    kohSharePercent: fc.constantFrom(0, 30, 100),
    superfatPercent: fc.integer({ min: 4, max: 18 }),
  })
  .map(({ own, late, acidKey, acidShare, strength, intoFatsPercent, kohSharePercent, superfatPercent }) => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    lyeConcentrationPercent: 28,
    alkali: { kohSharePercent },
    fats: [
      { fatKey: 'shea', sharePercent: late, late: true },
      { fatKey: 'own:1', sharePercent: own, own: OWN },
      { fatKey: 'olive', sharePercent: 100 - own - late },
    ],
    liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 40, intoFatsPercent }],
    acids: [{ acidKey, shareOfFatPercent: acidShare, strengthPercent: { low: strength - 1, nominal: strength, high: strength + 1 } }],
  }));

/** Saponification values, mg/g: shea 160 to 195 and olive 184 to 196 (CXS 325R-2017, CXS 33-1981); our tallow as entered. */
const TRUE_SV: Record<string, [number, number]> = { 'fat:shea': [160, 195], 'fat:own:1': [190, 202], 'fat:olive': [184, 196] };
/** Acid groups over molar mass, mol/g (formula masses from IUPAC/CIAAW weights); bicarbonate is not counted on. */
const MOL_PER_G: Record<string, number> = { citric_acid: 3 / 192.123, citric_acid_monohydrate: 3 / 210.138, lactic_acid: 1 / 90.078, sodium_bicarbonate: 0 };
const NAOH = 39.9971;
const KOH = 56.1056;

type Draw = () => number;
const between = (draw: Draw, low: number, high: number): number => low + draw() * (high - low);

/** The true superfat, percent, of one accepted weighing on a scale of 1 g, worked out in moles and grams. */
function trueSuperfat(recipe: RecipeInput, purity: Purity, lines: readonly PlanLine[], draw: Draw): number {
  const trueG = (key: string): number => {
    const line = lines.find((each) => each.key === key);
    if (!line) return 0;
    const steps = Math.round((line.acceptHighMg - line.acceptLowMg) / line.stepMg);
    // A draw of exactly 1 is one of these too, and still no reading above the accepted ones.
    const readMg = line.acceptLowMg + Math.min(steps, Math.floor(draw() * (steps + 1))) * line.stepMg;
    const limit = errorLimitMg(line.stepMg, readMg);
    return (readMg + between(draw, -limit, limit)) / 1000;
  };
  const acid = recipe.acids?.[0];
  const hydroxide =
    ((trueG('naoh') / NAOH) * between(draw, purity.naohPercent.low, purity.naohPercent.high)) / 100 +
    ((trueG('koh') / KOH) * between(draw, purity.kohPercent.low, purity.kohPercent.high)) / 100;
  const taken = acid
    ? ((trueG(`acid:${acid.acidKey}`) * between(draw, acid.strengthPercent.low, acid.strengthPercent.high)) / 100) * (MOL_PER_G[acid.acidKey] ?? 0)
    : 0;
  const need = Object.entries(TRUE_SV).reduce((sum, [key, [low, high]]) => sum + (trueG(key) * between(draw, low, high)) / 1000 / KOH, 0);
  return 100 * (1 - (hydroxide - taken) / need);
}

const planOf = (recipe: RecipeInput) => planWeighing(recipe, CERTIFIED, { volumeMl: 3000 }, { stepMg: 1000, capacityMg: 20_000_000 });

test.prop([recipes, fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 64, maxLength: 64 })], { numRuns: 2000 })(
  'the true superfat of any accepted weighing lies in the band, with acid, own fat, late fat and milk in the fats',
  (recipe, draws) => {
    const plan = planOf(recipe);
    if (!plan.ok) {
      for (const { code } of plan.problems) expect(['superfat-band-below-floor', 'scale-step-too-coarse']).toContain(code);
      return;
    }
    let at = 0;
    const superfat = trueSuperfat(recipe, CERTIFIED, plan.value.lines, () => draws[at++ % draws.length] ?? 0);
    const { low, high } = plan.value.superfatBandPercent;
    // 0.001: the molar masses above are typed to four decimals.
    expect(superfat).toBeGreaterThanOrEqual(low - 0.001);
    expect(superfat).toBeLessThanOrEqual(high + 0.001);
  },
);

test.prop([recipes], { numRuns: 1000 })('the alkali meets the fats at the aim and the acids besides, and never a hair more', (recipe) => {
  const formula = valueOf(formulate(recipe, CERTIFIED));
  const acid = recipe.acids![0]!;
  const mid = (key: string) => (TRUE_SV[key]![0] + TRUE_SV[key]![1]) / 2;
  const need = Object.keys(TRUE_SV).reduce((sum, key) => sum + (massOf(formula.lines, key) * mid(key)) / 1000 / KOH, 0);
  const taken = ((massOf(formula.lines, `acid:${acid.acidKey}`) * acid.strengthPercent.nominal) / 100) * (MOL_PER_G[acid.acidKey] ?? 0);
  const hydroxide = (massOf(formula.lines, 'naoh') * 0.99) / NAOH + (massOf(formula.lines, 'koh') * 0.9) / KOH;
  const wanted = need * (1 - recipe.superfatPercent / 100) + taken;
  expect(hydroxide).toBeLessThanOrEqual(wanted * (1 + 1e-5));
  expect(hydroxide).toBeGreaterThan(wanted * (1 - 1e-4));
});

test.prop([recipes], { numRuns: 500 })(
  'order of the fats is irrelevant, more superfat never means more alkali, and no water is lost into the fats',
  (recipe) => {
    const formula = valueOf(formulate(recipe, CERTIFIED));
    const turned = valueOf(formulate({ ...recipe, fats: [...recipe.fats].reverse() }, CERTIFIED));
    expect(turned.lines.map((line) => [line.key, line.massMg]).sort()).toEqual(formula.lines.map((line) => [line.key, line.massMg]).sort());
    expect(valueOf(formulate({ ...recipe, superfatPercent: recipe.superfatPercent + 1 }, CERTIFIED)).alkaliMassMg).toBeLessThan(formula.alkaliMassMg);
    const whole = valueOf(formulate({ ...recipe, liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 40 }] }, CERTIFIED));
    expect(formula.waterMassMg).toBe(whole.waterMassMg);
    expect(massOf(formula.lines, 'liquid:goat_milk') + massOf(formula.lines, 'liquid:goat_milk:fats')).toBe(massOf(whole.lines, 'liquid:goat_milk'));
    const share = recipe.liquids[0]!.intoFatsPercent!;
    const leaves = (massOf(whole.lines, 'liquid:goat_milk') * (liquidByKey('goat_milk')?.waterPercent ?? 0) * share) / 10_000;
    const potMg = (formula.alkaliMassMg * (100 - formula.potConcentrationPercent)) / formula.potConcentrationPercent;
    expect(Math.abs(formula.waterMassMg - leaves - potMg)).toBeLessThan(3);
  },
);
