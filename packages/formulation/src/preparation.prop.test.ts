import type { AcidShare } from './recipe.ts';
import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { asStated, bandInput } from './figures.ts';
import { formulate } from './formulate.ts';
import { likelySuperfat } from './preparation.ts';
import { superfatBand } from './superfat-band.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';

const recipes = fc.record({
  share: fc.integer({ min: 5, max: 95 }),
  kohSharePercent: fc.constantFrom(0, 0, 30, 100),
  superfatPercent: fc.integer({ min: 3, max: 20 }),
  lyeConcentrationPercent: fc.integer({ min: 22, max: 38 }),
  acids: fc.constantFrom<AcidShare[]>([], [{ acidKey: 'citric_acid', shareOfFatPercent: 1.5, strengthPercent: { low: 98, nominal: 99, high: 100 } }]),
  fat: fc.constantFrom('coconut', 'lard', 'castor', 'sunflower'),
});

test.prop([recipes], { numRuns: 1000 })(
  'likely within worst case, and the squares of the contributions sum to that of the whole (JCGM 100, 5.1.2)',
  ({ share, fat, kohSharePercent, ...rest }) => {
    const fats = [
      { fatKey: 'olive', sharePercent: share },
      { fatKey: fat, sharePercent: 100 - share },
    ];
    const recipe = { ...PLAIN_RECIPE, fats, alkali: { kohSharePercent }, ...rest };
    const formula = valueOf(formulate(recipe, CERTIFIED));
    const band = superfatBand(bandInput(recipe, CERTIFIED, formula.lines, asStated));
    const { likelyPercent, contributions, standardUncertaintyPercent: u } = likelySuperfat(recipe, CERTIFIED, formula.lines, asStated);
    expect(likelyPercent.low).toBeGreaterThanOrEqual(band.low);
    expect(likelyPercent.high).toBeLessThanOrEqual(band.high);
    expect(contributions.reduce((sum, each) => sum + each.standardUncertainty ** 2, 0)).toBeCloseTo(u * u, 9);
  },
);
