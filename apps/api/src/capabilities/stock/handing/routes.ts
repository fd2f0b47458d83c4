import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CheckOut, CheckOutMade, CheckOuts, Empty, Id, ReturnCheckOut } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { checkOut, readCheckOuts, takeBack } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/checkouts',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: {
        tags,
        summary: 'What was handed out: what is still out first, then the newest',
        querystring: z.object({ classId: Id.optional() }),
        response: { 200: CheckOuts, ...problemResponses },
      },
    },
    (request) =>
      read(request, async (context) => {
        const checkouts = await readCheckOuts(context, request.query.classId);
        return { checkouts, overdue: checkouts.filter(({ overdue }) => overdue).length };
      }),
  );
  app.post(
    '/api/checkouts',
    { ...keepers, schema: { tags, summary: 'Hand caustic out, or ask for it', body: CheckOut, response: { 200: CheckOutMade, ...problemResponses } } },
    (request) => write(request, (context) => checkOut(context, request.body)),
  );
  app.post(
    '/api/checkouts/:id/return',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Take back what was not used',
        params: z.object({ id: Id }),
        body: ReturnCheckOut,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => write(request, (context) => takeBack(context, request.params.id, request.body)),
  );
};
export default routes;
