import type { RecipeDraft } from '@ashwater/contracts';
import { blankRecipe } from '@ashwater/contracts';

const draft = (title: string, fats: [string, string][], more: Partial<RecipeDraft> = {}): RecipeDraft => ({
  ...blankRecipe(),
  title,
  fats: fats.map(([fatKey, sharePercent]) => ({ fatKey, sharePercent })),
  ...more,
});

/** A fat of the demo studio's own; supplier and figures are invented, the range is about that of soft seed fats. */
export const DEMO_FAT = {
  name: 'Larkmoor walnut press, winter',
  botanicalName: 'Juglans regia',
  svLow: '186',
  svHigh: '196',
  iodineLow: '138',
  iodineHigh: '162',
  densityGPerMl: '0.925',
  unsaponifiablePercent: '1',
  source: 'Invented data sheet of the Larkmoor press, sheet 7',
};

/** Uses what a recipe can hold beyond fats, alkali and water: an own fat, one stirred in late, an acid, milk into the fats, water by a ratio. */
export const demoMilkAndLemon = (ownFatKey: string): RecipeDraft => ({
  ...draft('Milk and lemon bar', []),
  fats: [
    { fatKey: 'olive', sharePercent: '50' },
    { fatKey: 'coconut', sharePercent: '25' },
    { fatKey: ownFatKey, sharePercent: '15' },
    { fatKey: 'shea', sharePercent: '10', late: true },
  ],
  superfatPercent: '9',
  lyeConcentrationPercent: '',
  waterBy: 'water per alkali',
  waterFigure: '2.4',
  peakLimitC: '70',
  iceSharePercent: '75',
  liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '25', intoFatsPercent: '100' }],
  acids: [{ acidKey: 'citric_acid', shareOfFatPercent: '1', strengthPercent: '99.5', strengthUncertainty: '0.5' }],
});

/** Three recipes of our own: a plain one, one with milk, one with both alkalis. Superfat aims leave room for the oils' published ranges. */
export const DEMO_RECIPES: RecipeDraft[] = [
  draft(
    'First bar: olive and coconut',
    [
      ['olive', '70'],
      ['coconut', '30'],
    ],
    { superfatPercent: '7', iceSharePercent: '75' },
  ),
  draft(
    'Goat milk bar',
    [
      ['olive', '55'],
      ['coconut', '25'],
      ['shea', '20'],
    ],
    {
      superfatPercent: '9',
      iceSharePercent: '75',
      liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '30' }],
      additives: [{ name: 'Ground oats', shareOfFatPercent: '2', limitPercent: '5' }],
    },
  ),
  draft(
    'Soft shaving soap, both alkalis',
    [
      ['palm_stearin', '50'],
      ['coconut', '30'],
      ['castor', '20'],
    ],
    { superfatPercent: '8', kohSharePercent: '60', iceSharePercent: '60', lyeConcentrationPercent: '28' },
  ),
];
