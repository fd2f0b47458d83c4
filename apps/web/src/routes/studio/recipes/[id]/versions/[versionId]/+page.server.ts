import { RecipeVersionOut } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  version: await read(event, `/api/recipe-versions/${event.params.versionId}`, RecipeVersionOut),
  printedAt: new Date().toISOString(),
});
