import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { waterFigures, waterOf } from './liquid-plan.ts';
import { splitLiquid } from './split-liquid.ts';
import { valueOf } from './testing.ts';

/** Fat 10 g to 100 kg, alkali 8 to 25 % of it, concentration 15 to 60 %. */
const batches = fc
  .record({
    fatMg: fc.integer({ min: 10_000, max: 100_000_000 }),
    alkali: fc.double({ min: 0.08, max: 0.25, noNaN: true }),
    water: fc.double({ min: 0.67, max: 5.6, noNaN: true }),
  })
  .map(({ fatMg, alkali, water }) => {
    const alkaliMg = Math.round(fatMg * alkali);
    return { fatMg, alkaliMg, waterMg: Math.round(alkaliMg * water) };
  });

test.prop([batches], { numRuns: 2000 })('each of the three figures gives the same milligrams of water back', ({ fatMg, alkaliMg, waterMg }) => {
  const figures = waterFigures({ fatMg, alkaliMg, waterMg });
  const back = [
    waterOf({ kind: 'lye concentration', percent: figures.lyeConcentrationPercent }, { alkaliMg, fatMg }),
    waterOf({ kind: 'water per alkali', ratio: figures.waterPerAlkali }, { alkaliMg, fatMg }),
    waterOf({ kind: 'share of fat', percent: figures.waterShareOfFatPercent }, { alkaliMg, fatMg }),
  ];
  expect(back.map((each) => valueOf(each).waterMg)).toEqual([waterMg, waterMg, waterMg]);
});

test.prop([batches, fc.double({ min: 0, max: 30, noNaN: true })])(
  'liquid in the fats is taken from the pot and only strengthens it',
  ({ alkaliMg, waterMg }, share) => {
    const outcome = splitLiquid({ naohMg: alkaliMg, kohMg: 0 }, [{ waterMg, intoFatsPercent: share }]);
    if (outcome.ok) {
      expect(outcome.value.potWaterMg + outcome.value.fatsWaterMg).toBe(waterMg);
      expect(outcome.value.potConcentrationPercent).toBeGreaterThanOrEqual(outcome.value.wholeConcentrationPercent);
      expect(outcome.value.potConcentrationPercent).toBeLessThanOrEqual(52);
    } else expect(outcome.problems[0]?.code).toBe('concentration-past-solubility');
  },
);
