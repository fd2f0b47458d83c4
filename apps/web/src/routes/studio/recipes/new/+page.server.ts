import { redirect } from '@sveltejs/kit';
import { blankRecipe, Created } from '@ashwater/contracts';
import { startFrom } from '#lib/components/recipe/editor-state.ts';
import { afterLineButton, readRecipeForm, refuseRecipe } from '#lib/components/recipe/recipe-actions.server.ts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { offeredFats } from '#lib/server/own-fats.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({ id: newId(), start: startFrom(blankRecipe()), ownFats: await offeredFats(event) });

export const actions: Actions = {
  default: async (event) => {
    const form = await readRecipeForm(event);
    if (form.intent === 'line') return afterLineButton(form);
    const { id } = form;
    const answer = await write(event, '/api/recipes', { id, draft: form.edited.draft }, Created, { key: id });
    if (!answer.ok) return refuseRecipe(answer, form.data);
    redirect(303, `/studio/recipes/${id}?saved`);
  },
};
