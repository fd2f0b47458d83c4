import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AddPaper, Created, Id, KeepFile, MOST_FILE_TEXT } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { addPaper, keepFile, readFile } from './service.ts';

const tags = ['stock'];
const params = z.object({ id: Id });
const keepers = { access: { staff: KEEPERS } };
const pdf = { 200: { description: 'A file', content: { 'application/pdf': { schema: z.any() } } }, ...problemResponses };
/** What stands around the file in its request. */
const AROUND_BYTES = 1_000;

const routes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/stock-files',
    {
      bodyLimit: MOST_FILE_TEXT + AROUND_BYTES,
      config: keepers,
      schema: { tags, summary: 'Keep a data sheet or certificate as a PDF', body: KeepFile, response: { 200: Created, ...problemResponses } },
    },
    (request) => write(request, (context) => keepFile(context, request.body)),
  );
  app.get(
    '/api/stock-files/:id',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags, summary: 'A kept file, to be saved', params, response: pdf } },
    async (request, reply) => {
      const { name, bytes } = await read(request, (context) => readFile(context, request.params.id));
      // Saved, never shown inside this site: what is in the file was written elsewhere.
      const plain = name.replace(/[^\w .()-]/g, '_').replace(/(\.pdf)?$/i, '.pdf');
      void reply
        .type('application/pdf')
        .header(
          'content-disposition',
          `attachment; filename="${plain}"; filename*=UTF-8''${encodeURIComponent(name.replace(/(\.pdf)?$/i, '.pdf')).replace(/['()*]/g, '_')}`,
        )
        .header('x-content-type-options', 'nosniff')
        .header('content-security-policy', "default-src 'none'; sandbox")
        .header('cache-control', 'private, no-store');
      return bytes;
    },
  );
  app.post(
    '/api/lots/:id/papers',
    {
      config: keepers,
      schema: { tags, summary: 'Add a newer sheet or a certificate', params, body: AddPaper, response: { 200: Created, ...problemResponses } },
    },
    (request) => write(request, (context) => addPaper(context, request.params.id, request.body)),
  );
};
export default routes;
