import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CabinetScales, Created, Empty, Id, ScaleCheckIn, ScaleCheckOut, ScaleIn } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { addScale, checkScale, readScales, retireScale } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];
const params = z.object({ id: Id });

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/scales',
    { ...keepers, schema: { tags, summary: 'The cabinet’s scales and their checks', response: { 200: CabinetScales, ...problemResponses } } },
    (request) => read(request, async (context) => ({ scales: await readScales(context) })),
  );
  app.post('/api/scales', { ...keepers, schema: { tags, summary: 'Add a scale', body: ScaleIn, response: { 200: Created, ...problemResponses } } }, (request) =>
    write(request, (context) => addScale(context, request.body)),
  );
  app.post(
    '/api/scales/:id/retire',
    { ...keepers, schema: { tags, summary: 'Take a scale out of use', params, body: Empty, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => retireScale(context, request.params.id)),
  );
  app.post(
    '/api/scales/:id/checks',
    {
      ...keepers,
      schema: { tags, summary: 'Record a known mass on a scale', params, body: ScaleCheckIn, response: { 200: ScaleCheckOut, ...problemResponses } },
    },
    (request) => write(request, (context) => checkScale(context, request.params.id, request.body)),
  );
};
export default routes;
