import type { CardContent, ChangeOut } from '@ashwater/contracts';

/**
 * A card with what notes have changed on it: cautions on their steps, and gear that everybody at the station wears besides. What was changed for another
 * recipe alone is left out.
 */
export function withLessons<C extends CardContent>(content: C, all: readonly ChangeOut[], recipeId: string): C {
  const changes = all.filter((change) => change.recipeId === null || change.recipeId === recipeId);
  const on = (title: string) =>
    changes.filter(({ target, stepTitle }) => target === 'step' && stepTitle === title).map(({ words, noteNumber }) => ({ words, noteNumber }));
  const gear = changes
    .filter(({ target }) => target === 'gear')
    .map(({ id, words, noteNumber }) => ({ key: `note-${id.replaceAll('-', '')}`, name: words, check: `Asked for since note ${noteNumber}` }));
  return {
    ...content,
    gear: [...content.gear, ...gear],
    steps: content.steps.map((step) => {
      const because = on(step.title);
      return because.length === 0 ? step : { ...step, because };
    }),
  };
}
