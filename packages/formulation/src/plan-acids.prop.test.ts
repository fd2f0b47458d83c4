import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { saponificationValueOf } from './masses.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

/** Two oils and an acid, on scales where one step of the acid is worth many steps of the lye. */
const recipes: fc.Arbitrary<RecipeInput> = fc
  .record({
    olive: fc.integer({ min: 20, max: 70 }),
    superfatPercent: fc.integer({ min: 3, max: 14 }),
    kohSharePercent: fc.constantFrom(0, 30, 100),
    acidKey: fc.constantFrom('citric_acid', 'lactic_acid'),
    shareOfFatPercent: fc.integer({ min: 10, max: 100 }).map((tenths) => tenths / 10),
    strength: fc.integer({ min: 80, max: 85 }),
    give: fc.constantFrom(0, 1, 15),
  })
  .map(({ olive, superfatPercent, kohSharePercent, acidKey, shareOfFatPercent, strength, give }) => ({
    ...PLAIN_RECIPE,
    superfatPercent,
    superfatFloorPercent: 0,
    alkali: { kohSharePercent },
    fats: [
      { fatKey: 'olive', sharePercent: olive },
      { fatKey: 'coconut', sharePercent: 100 - olive },
    ],
    acids: [{ acidKey, shareOfFatPercent, strengthPercent: { low: strength - give, nominal: strength, high: strength + give } }],
  }));
const coarse = fc.constantFrom<number[]>(500, 1000, 2000).map((stepMg) => ({ stepMg, capacityMg: 20_000_000 }));
const LYE = { stepMg: 50, capacityMg: 20_000_000 };
const moulds = fc.integer({ min: 900, max: 6000 }).map((volumeMl) => ({ volumeMl }));

/** Acid groups over molar mass, mol/g, and KOH, g/mol (IUPAC/CIAAW 2021). */
const MOL_PER_G: Record<string, number> = { citric_acid: 3 / 192.123, lactic_acid: 1 / 90.078 };
const KOH = 56.1053;

/** An acid that comes to half a step within half a mg, and once was rounded up for the lye and down for itself. */
const HALF_STEP: [RecipeInput, { stepMg: number; capacityMg: number }, { volumeMl: number }] = [
  {
    ...PLAIN_RECIPE,
    superfatPercent: 13,
    superfatFloorPercent: 0,
    fats: [
      { fatKey: 'olive', sharePercent: 44 },
      { fatKey: 'coconut', sharePercent: 56 },
    ],
    acids: [{ acidKey: 'citric_acid', shareOfFatPercent: 7.8, strengthPercent: { low: 80, nominal: 80, high: 80 } }],
  },
  { stepMg: 500, capacityMg: 20_000_000 },
  { volumeMl: 904 },
];

test.prop([recipes, coarse, moulds], { numRuns: 1000, examples: [HALF_STEP] })(
  'a coarse scale for the acid and a fine one for the lye: never under the aim, and no farther above it than a step of a fat and of the lye',
  (recipe, scale, mould) => {
    const outcome = planWeighing(recipe, CERTIFIED, mould, scale, { naoh: LYE, koh: LYE });
    if (!outcome.ok) {
      // Too few steps of a fat or an acid on the coarse scale; of the lye there are always enough, and a choice among them.
      for (const { code, fields } of outcome.problems) {
        expect(['superfat-band-below-floor', 'scale-step-too-coarse']).toContain(code);
        expect(['naoh', 'koh']).not.toContain(fields?.line);
      }
      return;
    }
    const { lines, roundingEffectPercent, superfatBandPercent } = outcome.value;
    const target = (key: string): number => lines.find((line) => line.key === key)?.targetMg ?? 0;
    const needMg = recipe.fats.reduce((sum, fat) => sum + (target(`fat:${fat.fatKey}`) / 1000) * saponificationValueOf(fat).nominal, 0);
    const acid = recipe.acids![0]!;
    const takenMg = ((target(`acid:${acid.acidKey}`) * acid.strengthPercent.nominal) / 100) * (MOL_PER_G[acid.acidKey] ?? 0) * KOH;
    const metMg = (target('naoh') * 0.99 * KOH) / 39.99677 + target('koh') * 0.9;
    const superfat = 100 * (1 - (metMg - takenMg) / needMg);
    expect(superfat).toBeGreaterThanOrEqual(recipe.superfatPercent - 1e-3);
    // The larger value of the two oils, coconut's 256 mg/g, for one step, and 2 steps of 50 mg of each alkali, with a mg for rounding.
    const mostPercent = (100 * (0.2565 * scale.stepMg + 2 * 51 * 1.41 + 2 * 51)) / needMg;
    expect(roundingEffectPercent).toBeLessThanOrEqual(mostPercent);
    expect(superfat - recipe.superfatPercent).toBeCloseTo(roundingEffectPercent, 3);
    expect(superfatBandPercent.low).toBeGreaterThanOrEqual(0);
    for (const line of lines) if (line.kind === 'naoh' || line.kind === 'koh') expect(line.targetMg).toBeLessThanOrEqual(line.exactMg);
  },
);

test.prop([recipes, coarse, moulds], { numRuns: 1000 })('with acid too, a refusal for the floor names an aim that passes', (recipe, scale, mould) => {
  const floored = { ...recipe, superfatFloorPercent: 1 };
  const refused = planWeighing(floored, CERTIFIED, mould, scale);
  const problem = refused.ok ? undefined : refused.problems.find((each) => each.code === 'superfat-band-below-floor');
  if (!problem || (!refused.ok && refused.problems.length > 1)) return;
  const raised = { ...floored, superfatPercent: Number(problem.fields?.neededAimPercent) };
  const again = planWeighing(raised, CERTIFIED, mould, scale);
  expect(again.ok ? [] : again.problems.map((each) => each.code)).not.toContain('superfat-band-below-floor');
});
