import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AddFat, Created, Empty, Fats, Id, RetireFat } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, PLANNERS } from '../../plugins/access.ts';
import { read, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { addFat, listFats, retireFat } from './service.ts';

const tags = ['recipes'];
const writers = { config: { access: { staff: PLANNERS } } } as const;

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/fats',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags, summary: 'The studio’s own fats', response: { 200: Fats, ...problemResponses } } },
    (request) => read(request, async (context) => ({ fats: await listFats(context) })),
  );
  app.post(
    '/api/fats',
    { ...writers, schema: { tags, summary: 'Add a fat of one’s own', body: AddFat, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => addFat(context, request.body)),
  );
  app.post(
    '/api/fats/:id/retire',
    {
      ...writers,
      schema: {
        tags,
        summary: 'Offer a fat no longer; recipes that hold it keep their copy',
        params: z.object({ id: Id }),
        body: RetireFat,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => write(request, (context) => retireFat(context, request.params.id)),
  );
};
export default routes;
