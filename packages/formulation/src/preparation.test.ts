import { describe, expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import { alkaliKindOf, preparationOf, preparationOfPlan } from './preparation.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, PURE, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

const prepare = (change: Partial<RecipeInput> = {}, purity = CERTIFIED, where = {}) => {
  const recipe = { ...PLAIN_RECIPE, ...change };
  const formula = valueOf(formulate(recipe, purity));
  return { formula, recipe, found: preparationOf(recipe, purity, formula.lines, where) };
};

describe('against published values', () => {
  test('a 50 % solution has a relative density of 1.52 at 20 °C and boils near 145 °C (Dow from ICT III, read)', () => {
    const { found } = prepare({ lyeConcentrationPercent: 50 });
    expect(found.potConcentrationPercent).toBeCloseTo(50, 1);
    expect(found.solution?.densityGPerMl).toBeCloseTo(1.525, 2);
    expect(Math.abs((found.solution?.boilingPointC ?? 0) - 145)).toBeLessThan(2);
  });

  test('CLP Annex VI: from 5 % on Skin Corr. 1A and Danger, for either alkali; with the advice to follow the supplier', () => {
    for (const kohSharePercent of [0, 100]) {
      const { label } = prepare({ alkali: { kohSharePercent } }).found;
      expect(label.classification).toContain('Skin Corr. 1A');
      expect(label).toMatchObject({ signalWord: 'Danger', supplierFirst: expect.stringContaining('safety data sheet') });
    }
  });

  test('1 g of a 33 % film: 0.33 g / 39.997 g/mol of acetic acid, 60.05 g/mol, at 5 % and 1.005 g/mL: 9.9 mL', () => {
    const { rinseFilm, notOnSpill } = prepare().found;
    expect(rinseFilm).toMatch(/^About 10 mL of 5 % vinegar .* never on skin/u);
    expect(notOnSpill).toMatch(/^A spill is not treated with vinegar/u);
  });

  test('polypropylene bears the pot, glass and aluminium never do (suppliers of caustic, Dow)', () => {
    const verdict = (key: string) => prepare().found.containers.find((each) => each.material.key === key)?.verdict;
    expect([verdict('pp'), verdict('glass'), verdict('aluminium'), verdict('pet')]).toEqual(['bears it', ...Array(3).fill('does not bear it')]);
  });
});

describe('it says what the files it gathers say', () => {
  test('the peak is the formula’s, with and without ice and potassium', () => {
    for (const change of [{}, { iceSharePercent: 0 }, { alkali: { kohSharePercent: 40 } }, { lyeConcentrationPercent: 25, iceSharePercent: 100 }]) {
      const { formula, found } = prepare(change);
      expect(found.path.peak).toEqual(formula.peak);
      expect(Math.max(...found.path.points.map((point) => point.temperatureC))).toBeLessThanOrEqual(formula.peak.temperatureC + 1e-9);
    }
  });

  test('ice for the recipe’s own limit, or for 60 °C by our default', () => {
    expect(prepare().found.peakLimitC).toBe(60);
    const { found } = prepare({ peakLimitC: 75 });
    expect(found.ice.words).toContain('75 °C');
    const share = found.ice.value?.reached ? found.ice.value.iceSharePercent : Number.NaN;
    expect(prepare({ iceSharePercent: share }).formula.peak.temperatureC).toBeLessThanOrEqual(75.2);
    expect(prepare({ iceSharePercent: share - 2 }).formula.peak.temperatureC).toBeGreaterThan(75);
  });

  test('it cools to 40 °C where it is 20 °C, or says why it never can', () => {
    const { found } = prepare();
    expect(found.cooling['still air'].words).toMatch(/^Estimate: \d+ to \d+ minutes to 40 °C in still air/u);
    expect(found.cooling['water bath'].value!.highMinutes).toBeLessThan(found.cooling['still air'].value!.highMinutes);
    const warm = prepare({}, CERTIFIED, { aroundC: 41 }).found.cooling['still air'];
    expect(warm).toMatchObject({ value: null, words: expect.stringContaining('never cools') });
  });

  test('the three figures of the water agree: 33 % is 67/33 g of water per gram', () => {
    const { water } = prepare().found;
    expect(water.waterPerAlkali).toBeCloseTo(67 / 33, 4);
    expect(water.lyeConcentrationPercent).toBeCloseTo(33, 3);
  });

  test('a pot of the studio’s own is judged by its material and its volume', () => {
    const small = prepare({}, CERTIFIED, { potMaterialKey: 'aluminium', potVolumeMl: 300 }).found;
    expect([small.ownContainer?.verdict, small.fill?.verdict]).toEqual(['does not bear it', 'does not fit']);
    expect([prepare().found.ownContainer, prepare().found.fill]).toEqual([null, null]);
  });

  test('the bar keeps the mass: what is poured is the batch, and a negative superfat makes none', () => {
    const { formula, found } = prepare();
    expect(found.bar!.pouredMg).toBeCloseTo(formula.batchMassMg, 0);
    expect(found.bar!.freeFatMg / formula.fatMassMg).toBeCloseTo(0.08, 3);
    expect(alkaliKindOf(1, 0)).toBe('NaOH');
    expect([alkaliKindOf(0, 1), alkaliKindOf(1, 1)]).toEqual(['KOH', 'dual']);
  });

  test('a certified oil counts as certified, a certified wax does not: its low end is no measurement', () => {
    const certificateSv = { valueMgKohPerG: 190, expandedUncertainty: 2 };
    const olive = prepare({ fats: [{ fatKey: 'olive', sharePercent: 100, certificateSv }] }, PURE).found.superfat;
    expect(olive.standardUncertaintyPercent).toBeCloseTo((92 * 1) / 190, 4);
    const wax = { fatKey: 'beeswax', sharePercent: 10, certificateSv: { valueMgKohPerG: 95, expandedUncertainty: 2 } };
    const waxy = prepare({ fats: [{ fatKey: 'olive', sharePercent: 90, certificateSv }, wax], superfatPercent: 20 }, PURE).found.superfat;
    // By hand: 80 % met, a tenth of the fat in a need of 0.9 x 190 + 0.1 x 95 = 180.5; 95 - 17 is the wider half.
    expect(waxy.contributions[0]).toMatchObject({
      what: 'saponification value of Beeswax, white',
      standardUncertainty: expect.closeTo((80 * 0.1 * 78) / Math.sqrt(3) / 180.5, 2),
    });
  });

  test('an acid takes part: the likely range stands around the aim, and its strength is named', () => {
    const acids = [{ acidKey: 'citric_acid', shareOfFatPercent: 2, strengthPercent: { low: 90, nominal: 95, high: 100 } }];
    const { superfat } = prepare({ acids }).found;
    expect(superfat.superfatPercent).toBeCloseTo(8, 2);
    expect(superfat.contributions.map(({ what }) => what)).toContain('strength of Citric acid, anhydrous');
  });

  test('milk into the fats leaves the pot stronger than the recipe says, and the label follows the pot', () => {
    const { found } = prepare({ lyeConcentrationPercent: 30, liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 40, intoFatsPercent: 100 }] });
    // 70 g of water for 30 g of alkali, 40 % of it left out: 30 / (30 + 42)
    expect(found.potConcentrationPercent).toBeCloseTo((100 * 30) / 72, 1);
    expect(found.solution?.concentrationPercent).toBeCloseTo(found.potConcentrationPercent, 6);
  });

  test('a plan adds its weighing to the doubt', () => {
    const recipe = { ...PLAIN_RECIPE, superfatPercent: 10 };
    const plan = valueOf(planWeighing(recipe, CERTIFIED, { volumeMl: 1000 }, { stepMg: 1000, capacityMg: 5_000_000 }));
    const { superfat } = preparationOfPlan(recipe, CERTIFIED, plan.lines);
    expect(superfat.contributions.map(({ what }) => what)).toContain('weighing of sodium hydroxide');
    expect(prepare().found.superfat.contributions.map(({ what }) => what)).not.toContain('weighing of sodium hydroxide');
  });
});
