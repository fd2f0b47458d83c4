import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Cabinet, Id, LotDetail, ReceivedLot, ReceiveLot } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { readCabinet, readLotDetail, receiveLot, standOfCabinet } from './service.ts';

const staff = { config: { access: { staff: ALL_STAFF } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/cabinet',
    { ...staff, schema: { tags, summary: 'Lots and containers with their book balance', response: { 200: Cabinet, ...problemResponses } } },
    (request) => read(request, async (context) => ({ lots: await readCabinet(context), stand: await standOfCabinet(context) })),
  );
  app.post(
    '/api/lots',
    {
      config: { access: { staff: KEEPERS } },
      schema: { tags, summary: 'Receive a lot with its containers', body: ReceiveLot, response: { 200: ReceivedLot, ...problemResponses } },
    },
    (request) => write(request, (context) => receiveLot(context, request.body)),
  );
  app.get(
    '/api/lots/:id',
    { ...staff, schema: { tags, summary: 'One lot with its papers', params: z.object({ id: Id }), response: { 200: LotDetail, ...problemResponses } } },
    (request) => read(request, (context) => readLotDetail(context, request.params.id)),
  );
};
export default routes;
