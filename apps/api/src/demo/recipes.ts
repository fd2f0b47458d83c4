import type { RecipeDraft } from '@ashwater/contracts';
import { blankRecipe } from '@ashwater/contracts';

const draft = (title: string, fats: [string, string][], more: Partial<RecipeDraft> = {}): RecipeDraft => ({
  ...blankRecipe(),
  title,
  fats: fats.map(([fatKey, sharePercent]) => ({ fatKey, sharePercent })),
  ...more,
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
