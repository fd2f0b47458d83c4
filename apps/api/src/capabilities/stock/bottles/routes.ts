import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ActOnContainer, BottleOut, Created, Id, TakeUp, Transfer } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { actOnContainer, readBottle, takeUp, transfer } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];
const params = z.object({ id: Id });
const response = { 200: Created, ...problemResponses };

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/containers/:id',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'One container with its history', params, response: { 200: BottleOut, ...problemResponses } },
    },
    (request) => read(request, (context) => readBottle(context, request.params.id)),
  );
  app.post(
    '/api/containers/:id/acts',
    { ...keepers, schema: { tags, summary: 'Opened, closed, emptied, rinsed, disposed of or moved', params, body: ActOnContainer, response } },
    (request) => write(request, (context) => actOnContainer(context, request.params.id, request.body)),
  );
  app.post(
    '/api/containers/:id/transfers',
    { ...keepers, schema: { tags, summary: 'Put caustic into another container of the same lot', params, body: Transfer, response } },
    (request) => write(request, (context) => transfer(context, request.params.id, request.body)),
  );
  app.post('/api/containers/:id/uptakes', { ...keepers, schema: { tags, summary: 'Book a gain from the air', params, body: TakeUp, response } }, (request) =>
    write(request, (context) => takeUp(context, request.params.id, request.body)),
  );
};
export default routes;
