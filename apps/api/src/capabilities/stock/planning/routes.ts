import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Created, Empty, Id, OfferIn, StockPlan } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { noteOffer, readPlan, retireOffer } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/stock-plan',
    {
      ...keepers,
      schema: { tags, summary: 'What will be used, how long it lasts, and what could be ordered', response: { 200: StockPlan, ...problemResponses } },
    },
    (request) => read(request, readPlan),
  );
  app.post(
    '/api/supplier-offers',
    { ...keepers, schema: { tags, summary: 'Note what a supplier asks', body: OfferIn, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => noteOffer(context, request.body)),
  );
  app.post(
    '/api/supplier-offers/:id/retire',
    { ...keepers, schema: { tags, summary: 'An offer does not stand any more', params: z.object({ id: Id }), response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => retireOffer(context, request.params.id)),
  );
};
export default routes;
