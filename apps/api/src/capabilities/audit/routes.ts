import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AuditLines } from '@ashwater/contracts';
import { KEEPERS } from '../../plugins/access.ts';
import { read } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { newestLines } from './service.ts';

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/audit',
    {
      config: { access: { staff: KEEPERS } },
      schema: { tags: ['audit'], summary: 'The newest 500 lines of the audit', response: { 200: AuditLines, ...problemResponses } },
    },
    (request) => read(request, async (context) => ({ lines: await newestLines(context) })),
  );
};
export default routes;
