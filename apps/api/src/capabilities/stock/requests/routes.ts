import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AskCorrection, AskDisposal, AskReversal, AskWriteOff, Created, Decide, Empty, Id, StockRequests } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { askCorrection, askDisposal, askReversal, askWriteOff } from '../corrections/service.ts';
import { decide, listRequests } from './decide-service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];
const made = { 200: Created, ...problemResponses };

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/stock-requests',
    {
      ...keepers,
      schema: { tags, summary: 'What was asked for and takes two people, open ones first', response: { 200: StockRequests, ...problemResponses } },
    },
    (request) => read(request, listRequests),
  );
  app.post(
    '/api/stock-requests/reversal',
    { ...keepers, schema: { tags, summary: 'Ask that a line of the ledger is mirrored', body: AskReversal, response: made } },
    (request) => write(request, (context) => askReversal(context, request.body)),
  );
  app.post(
    '/api/stock-requests/correction',
    { ...keepers, schema: { tags, summary: 'Ask that a mass is moved between places', body: AskCorrection, response: made } },
    (request) => write(request, (context) => askCorrection(context, request.body)),
  );
  app.post(
    '/api/stock-requests/write-off',
    { ...keepers, schema: { tags, summary: 'Ask that a counted difference leaves the book', body: AskWriteOff, response: made } },
    (request) => write(request, (context) => askWriteOff(context, request.body)),
  );
  app.post(
    '/api/stock-requests/disposal',
    { ...keepers, schema: { tags, summary: 'Ask that caustic is disposed of', body: AskDisposal, response: made } },
    (request) => write(request, (context) => askDisposal(context, request.body)),
  );
  app.post(
    '/api/stock-requests/:id/decide',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Approve or refuse what somebody else asked for',
        params: z.object({ id: Id }),
        body: Decide,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => write(request, (context) => decide(context, request.params.id, request.body)),
  );
};
export default routes;
