import { formulate, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import { describe, expect, test } from 'vitest';
import { draftPointer, readRecipe } from './read-recipe.ts';
import { blankRecipe } from './recipes.ts';
import type { RecipeDraft } from './recipes.ts';

const draft = (change: Partial<RecipeDraft> = {}): RecipeDraft => ({
  ...blankRecipe(),
  title: 'Olive and coconut',
  fats: [
    { fatKey: 'olive', sharePercent: '70' },
    { fatKey: 'coconut', sharePercent: '30' },
  ],
  ...change,
});
const formulaOf = (change: Partial<RecipeDraft>) => {
  const read = readRecipe(draft(change));
  const formula = read.ok ? formulate(read.value, PURITY_WITHOUT_CERTIFICATE) : read;
  if (!formula.ok) throw new Error(JSON.stringify(formula.problems));
  return formula.value;
};
const faultsOf = (change: Partial<RecipeDraft>): string[] => {
  const read = readRecipe(draft(change));
  const outcome = read.ok ? formulate(read.value, PURITY_WITHOUT_CERTIFICATE) : read;
  return outcome.ok ? [] : outcome.problems.map(({ pointer }) => draftPointer(pointer));
};
const by = (waterBy: RecipeDraft['waterBy'], waterFigure: string) => ({ waterBy, waterFigure, lyeConcentrationPercent: '' });

describe('water by another measure', () => {
  test('2 g of water for each gram of alkali are a lye concentration of a third', () => {
    const { lyeConcentrationPercent, waterMassMg, alkaliMassMg } = formulaOf(by('water per alkali', '2'));
    expect(lyeConcentrationPercent).toBeCloseTo(100 / 3, 3);
    expect(waterMassMg / alkaliMassMg).toBeCloseTo(2, 4);
  });

  test('33 % of the fat are 330 g of water for 1 kg of fat, whatever the alkali', () => {
    for (const superfatPercent of ['3', '12']) {
      const { waterMassMg, fatMassMg } = formulaOf({ ...by('share of fat', '33'), superfatPercent });
      expect(fatMassMg).toBe(1_000_000);
      expect(waterMassMg / 1000).toBeCloseTo(330, 1);
    }
  });

  test('a blank or ambiguous figure is a fault at its field; the measures not in use are not asked for', () => {
    expect(faultsOf(by('share of fat', ''))).toEqual(['/waterFigure']);
    expect(faultsOf(by('water per alkali', '1,234'))).toEqual(['/waterFigure']);
    expect(faultsOf({ waterBy: 'lye concentration', waterFigure: '', lyeConcentrationPercent: '' })).toEqual(['/lyeConcentrationPercent']);
  });

  test('a figure whose lye does not dissolve, or is hardly one, is a fault at its own field', () => {
    // 109 g NaOH per 100 g water at 20 C: 0.92 g of water for each gram is the least, 52.2 %. 9 g make a lye of 10 %.
    expect(faultsOf(by('water per alkali', '0.8'))).toEqual(['/waterFigure']);
    expect(faultsOf(by('water per alkali', '1'))).toEqual([]);
    expect(faultsOf(by('water per alkali', '9'))).toEqual(['/waterFigure']);
    // About 140 g of lye for 1 kg of fat: 5 % are 50 g of water, 100 % are 1 kg.
    expect(faultsOf(by('share of fat', '5'))).toEqual(['/waterFigure']);
    expect(faultsOf(by('share of fat', '100'))).toEqual(['/waterFigure']);
    const thin = readRecipe(draft(by('water per alkali', '9')));
    expect(thin.ok ? '' : thin.problems[0]?.detail).toBe('With this figure the lye concentration is 10.0 %; it must be from 15 to 100 %: give less water.');
  });

  test('plenty of water, most of it milk in the fats, is judged by its own concentration', () => {
    // 45 % of the fat are about 450 g for 140 g of lye: a fifth of it, 90 g, stays in the pot and would not dissolve it; a third does.
    const milk = (intoFatsPercent: string) => ({
      ...by('share of fat', '45'),
      liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '100', intoFatsPercent }],
    });
    expect(faultsOf(milk('68'))).toEqual([]);
    expect(faultsOf(milk('80'))).toEqual(['/liquids']);
  });

  test('what is wrong elsewhere is said once, there', () => {
    expect(faultsOf({ ...by('share of fat', '33'), fats: [{ fatKey: 'olive', sharePercent: '98' }] })).toEqual(['/fats']);
  });
});

const OWN = {
  id: '0199a0f0-0000-7000-8000-000000000001',
  name: 'Kokum, lot 3',
  botanicalName: '',
  saponificationValue: { low: 187, high: 193 },
  iodineValue: null,
  densityGPerMl: null,
  unsaponifiablePercent: null,
  source: 'data sheet, 2025-01-31',
};

describe('what later versions of a recipe can hold', () => {
  test('an own fat is worked out by its own figures: the midpoint of 187 and 193 is olive’s own, 190', () => {
    const own = formulaOf({ fats: [{ fatKey: `own:${OWN.id}`, sharePercent: '100', own: OWN }] });
    // ISO 3657: 190 mg KOH/g, 40.00/56.11 of it as NaOH, less 6 % superfat, at 98.5 % purity.
    expect(own.alkaliMassMg / 1000).toBeCloseTo(((190 / 56.105) * 39.997 * 0.94) / 0.985, 1);
    expect(own.lines[0]).toMatchObject({ name: 'Kokum, lot 3' });
    expect(faultsOf({ fats: [{ fatKey: `own:${OWN.id}`, sharePercent: '100' }] })).toEqual(['/fats/0/fatKey']);
  });

  test('10 g of citric acid for 1 kg of fat take 6.2 g of sodium hydroxide', () => {
    // C6H8O7 192.12 g/mol with three acid groups: 10 g / 192.12 * 3 * 39.997 g/mol = 6.246 g, at 98.5 % purity 6.34 g.
    const acids = [{ acidKey: 'citric_acid', shareOfFatPercent: '1', strengthPercent: '100', strengthUncertainty: '0' }];
    const extra = formulaOf({ acids }).alkaliMassMg - formulaOf({}).alkaliMassMg;
    expect(extra / 1000).toBeCloseTo(((10 / 192.12) * 3 * 39.997) / 0.985, 1);
    expect(faultsOf({ acids: [{ acidKey: '', shareOfFatPercent: '', strengthPercent: '101', strengthUncertainty: '' }] })).toEqual([
      '/acids/0/strengthPercent',
      '/acids/0/strengthUncertainty',
      '/acids/0/shareOfFatPercent',
    ]);
  });

  test('vinegar is an acid of 5 %, and pure acid one of 100', () => {
    // Acetic acid 60.05 g/mol, one group: 100 g of 5 % vinegar take 5 / 60.05 * 39.997 = 3.33 g of sodium hydroxide.
    const acids = [{ acidKey: 'acetic_acid', shareOfFatPercent: '10', strengthPercent: '5', strengthUncertainty: '0.5' }];
    const extra = formulaOf({ acids }).alkaliMassMg - formulaOf({}).alkaliMassMg;
    expect(extra / 1000).toBeCloseTo(((5 / 60.05) * 39.997) / 0.985, 1);
    expect(faultsOf({ acids: [{ ...acids[0]!, strengthPercent: '0.2' }] })).toEqual(['/acids/0/strengthPercent']);
  });

  test('milk into the fats, a late fat and a limit are handed on; blank is not there', () => {
    const read = readRecipe(
      draft({
        fats: [
          { fatKey: 'olive', sharePercent: '70', late: false },
          { fatKey: 'coconut', sharePercent: '30', late: true },
        ],
        liquids: [
          { liquidKey: 'goat_milk', shareOfWaterPercent: '30', intoFatsPercent: '100' },
          { liquidKey: 'tea', shareOfWaterPercent: '20', intoFatsPercent: ' ' },
        ],
        peakLimitC: '70',
        acids: [],
      }),
    );
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value).toMatchObject({
      peakLimitC: 70,
      fats: [{ fatKey: 'olive' }, { late: true }],
      liquids: [{ intoFatsPercent: 100 }, { liquidKey: 'tea' }],
    });
    expect(read.value.fats[0]).not.toHaveProperty('late');
    expect(read.value.liquids[1]).not.toHaveProperty('intoFatsPercent');
    expect(read.value).not.toHaveProperty('acids');
    expect(readRecipe(draft({ peakLimitC: '' }))).toMatchObject({ ok: true });
  });
});
