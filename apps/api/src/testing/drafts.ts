import type { RecipeDraft } from '@ashwater/contracts';
import { blankRecipe } from '@ashwater/contracts';

/** A sound recipe: its oils' published ranges leave the superfat above zero. */
export const soundDraft = (change: Partial<RecipeDraft> = {}): RecipeDraft => ({
  ...blankRecipe(),
  title: 'Plain olive bar',
  fats: [{ fatKey: 'olive', sharePercent: '100' }],
  superfatPercent: '8',
  iceSharePercent: '75',
  ...change,
});
