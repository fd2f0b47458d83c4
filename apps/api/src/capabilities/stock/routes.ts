import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Cabinet, CheckOut, CheckOuts, CountOut, Counts, CountSheet, CountShelf, Created, Empty, Id, ReceiveLot, ReturnCheckOut } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../plugins/access.ts';
import { read, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { checkOut, countSheet, countShelf, readCabinet, readCheckOuts, readCounts, receiveLot, takeBack } from './service.ts';

const staff = { config: { access: { staff: ALL_STAFF } } } as const;
const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/cabinet',
    { ...staff, schema: { tags, summary: 'Lots and containers with their book balance', response: { 200: Cabinet, ...problemResponses } } },
    (request) => read(request, async (context) => ({ lots: await readCabinet(context) })),
  );
  app.post(
    '/api/lots',
    { ...keepers, schema: { tags, summary: 'Receive a lot with its containers', body: ReceiveLot, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => receiveLot(context, request.body)),
  );

  app.get(
    '/api/checkouts',
    {
      ...staff,
      schema: {
        tags,
        summary: 'What was handed out, newest first',
        querystring: z.object({ classId: Id.optional() }),
        response: { 200: CheckOuts, ...problemResponses },
      },
    },
    (request) => read(request, async (context) => ({ checkouts: await readCheckOuts(context, request.query.classId) })),
  );
  app.post(
    '/api/checkouts',
    { ...keepers, schema: { tags, summary: 'Hand caustic out for a class', body: CheckOut, response: { 200: Created, ...problemResponses } } },
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

  app.get(
    '/api/count-sheet',
    { ...keepers, schema: { tags, summary: 'What to weigh, without the book’s figures', response: { 200: CountSheet, ...problemResponses } } },
    (request) => read(request, async (context) => ({ containers: await countSheet(context) })),
  );
  app.post(
    '/api/counts',
    { ...keepers, schema: { tags, summary: 'Count the shelf', body: CountShelf, response: { 200: CountOut, ...problemResponses } } },
    (request) => write(request, (context) => countShelf(context, request.body)),
  );
  app.get('/api/counts', { ...keepers, schema: { tags, summary: 'The newest counts', response: { 200: Counts, ...problemResponses } } }, (request) =>
    read(request, async (context) => ({ counts: await readCounts(context) })),
  );
};
export default routes;
