import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ClassDifferences, Created, ExplainDifference, Id } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { explainDifference, listDifferences } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/class-differences',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'What left the cabinet for classes against what their cards weighed',
        querystring: z.object({ classId: Id.optional() }),
        response: { 200: ClassDifferences, ...problemResponses },
      },
    },
    (request) => read(request, (context) => listDifferences(context, request.query.classId)),
  );
  app.post(
    '/api/classes/:id/differences',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Say what became of a difference',
        params: z.object({ id: Id }),
        body: ExplainDifference,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => write(request, (context) => explainDifference(context, request.params.id, request.body)),
  );
};
export default routes;
