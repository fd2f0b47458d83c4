import { redirect } from '@sveltejs/kit';
import { Changes, RecipeOut, SaveRecipe, VersionOut } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { startFrom } from '#lib/components/recipe/editor-state.ts';
import { afterLineButton, readRecipeForm, refuseRecipe } from '#lib/components/recipe/recipe-actions.server.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { text } from '#lib/server/forms.ts';
import { offeredFats } from '#lib/server/own-fats.ts';
import type { Actions, PageServerLoad } from './$types';

const Saved = SaveRecipe.pick({ revision: true });

export const load: PageServerLoad = async (event) => {
  const recipe = await read(event, `/api/recipes/${event.params.id}`, RecipeOut);
  const { changes } = await read(event, '/api/note-changes', Changes);
  return {
    id: newId(),
    // Of this recipe, and what stands on every recipe's card.
    changes: changes.filter((change) => change.recipeId === recipe.id || (change.target === 'step' && change.recipeId === null)),
    versionId: newId(),
    recipe,
    start: startFrom(recipe.draft),
    ownFats: await offeredFats(event, recipe.draft),
    mayPlan: mayPlan(event.locals.staff?.role),
    saved: event.url.searchParams.has('saved'),
  };
};

export const actions: Actions = {
  /** Saves; the button "Publish" saves first, so that what is frozen is what stood on the page. */
  default: async (event) => {
    const form = await readRecipeForm(event);
    if (form.intent === 'line') return afterLineButton(form);
    const path = `/api/recipes/${event.params.id}` as const;
    const revision = Number(text(form.data, 'revision'));
    const saved = await write(event, path, { revision, draft: form.edited.draft }, Saved, { method: 'PUT', key: form.id });
    if (!saved.ok) return refuseRecipe(saved, form.data);
    if (form.intent === 'save') redirect(303, `/studio/recipes/${event.params.id}?saved`);
    const versionId = text(form.data, 'versionId');
    const published = await write(event, `${path}/versions`, { id: versionId, revision: saved.value.revision }, VersionOut, { key: versionId });
    if (!published.ok) return refuseRecipe(published, form.data);
    redirect(303, `/studio/recipes/${event.params.id}/versions/${published.value.id}`);
  },
};
