import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CardOut, Empty, Id, ReadingOut, RecordReading } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF } from '../../plugins/access.ts';
import { read, writeAsSeat } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { finishStep, getCard, recordReading } from './service.ts';

const params = z.object({ id: Id });
const tags = ['weigh cards'];
const seat = { access: { seat: true } } as const;

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/cards/:id',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags, summary: 'One weigh card', params, response: { 200: CardOut, ...problemResponses } } },
    (request) => read(request, (context) => getCard(context, request.params.id)),
  );

  app.post(
    '/api/cards/:id/readings',
    {
      config: seat,
      schema: { tags, summary: 'Record what the scale or thermometer showed', params, body: RecordReading, response: { 200: ReadingOut, ...problemResponses } },
    },
    (request) => writeAsSeat(request, (context) => recordReading(context, request.params.id, request.body)),
  );

  app.post(
    '/api/cards/:id/steps/:stepNo/done',
    {
      config: seat,
      schema: {
        tags,
        summary: 'The step is done',
        params: params.extend({ stepNo: z.coerce.number().int().min(1).max(200) }),
        body: Empty,
        response: { 200: z.object({ currentStepNo: z.int().nullable() }), ...problemResponses },
      },
    },
    (request) => writeAsSeat(request, (context) => finishStep(context, request.params.id, request.params.stepNo)),
  );
};
export default routes;
