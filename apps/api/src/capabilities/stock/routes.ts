import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CountOut, Counts, CountSheet, CountShelf } from '@ashwater/contracts';
import { KEEPERS } from '../../plugins/access.ts';
import { read, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { countSheet, countShelf, readCounts } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
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
