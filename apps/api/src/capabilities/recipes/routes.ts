import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CreateRecipe, Created, Id, PublishRecipe, RecipeOut, Recipes, RecipeVersionOut, SaveRecipe, VersionOut } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, PLANNERS } from '../../plugins/access.ts';
import { readOrm, writeOrm } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { createRecipe, getRecipe, getVersion, listRecipes, publishRecipe, saveRecipe } from './service.ts';

const params = z.object({ id: Id });
const tags = ['recipes'];
const readers = { access: { staff: ALL_STAFF } };
const writers = { access: { staff: PLANNERS } };

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/recipes',
    { config: readers, schema: { tags, summary: 'All recipes with their versions', response: { 200: Recipes, ...problemResponses } } },
    (request) => readOrm(request, async (context) => ({ recipes: await listRecipes(context) })),
  );
  app.post(
    '/api/recipes',
    { config: writers, schema: { tags, summary: 'Write a new recipe', body: CreateRecipe, response: { 200: Created, ...problemResponses } } },
    (request) => writeOrm(request, (context) => createRecipe(context, request.body)),
  );
  app.get(
    '/api/recipes/:id',
    { config: readers, schema: { tags, summary: 'One recipe with its draft', params, response: { 200: RecipeOut, ...problemResponses } } },
    (request) => readOrm(request, (context) => getRecipe(context, request.params.id)),
  );
  app.put(
    '/api/recipes/:id',
    {
      config: writers,
      schema: { tags, summary: 'Save the draft', params, body: SaveRecipe, response: { 200: z.object({ revision: z.int() }), ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => saveRecipe(context, request.params.id, request.body)),
  );
  app.post(
    '/api/recipes/:id/versions',
    {
      config: writers,
      schema: { tags, summary: 'Publish the draft as the next version', params, body: PublishRecipe, response: { 200: VersionOut, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => publishRecipe(context, request.params.id, request.body)),
  );
  app.get(
    '/api/recipe-versions/:id',
    { config: readers, schema: { tags, summary: 'One published version', params, response: { 200: RecipeVersionOut, ...problemResponses } } },
    (request) => readOrm(request, (context) => getVersion(context, request.params.id)),
  );
};
export default routes;
