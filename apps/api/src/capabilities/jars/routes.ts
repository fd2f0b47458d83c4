import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { DiscardJar, Empty, Id, JarDetail, JarOut, Jars, LabelJar, LabelPaperJar, RecordJarAct } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../plugins/access.ts';
import { read, write, writeAsSeat } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { discardJar, labelJar, listJars, readJar, recordJarAct } from './service.ts';

const tags = ['jars'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/jars',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags, summary: 'Solution jars, newest first', response: { 200: Jars, ...problemResponses } } },
    (request) => read(request, async (context) => ({ jars: await listJars(context) })),
  );
  app.post(
    '/api/jars',
    {
      config: { access: { seat: true } },
      schema: { tags, summary: 'Label the jar a station filled', body: LabelJar, response: { 200: JarOut, ...problemResponses } },
    },
    (request) => writeAsSeat(request, (context) => labelJar(context, request.body)),
  );
  app.post(
    '/api/jars/from-paper',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'Label the jar of a card that is entered from paper', body: LabelPaperJar, response: { 200: JarOut, ...problemResponses } },
    },
    (request) => write(request, (context) => labelJar(context, request.body)),
  );
  app.post(
    '/api/jars/:id/discard',
    {
      config: { access: { staff: KEEPERS } },
      schema: {
        tags,
        summary: 'A jar was neutralised or handed to disposal',
        params: z.object({ id: Id }),
        body: DiscardJar,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => write(request, (context) => discardJar(context, request.params.id, request.body)),
  );
  app.get(
    '/api/jars/:id',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'A jar with its lots and its history', params: z.object({ id: Id }), response: { 200: JarDetail, ...problemResponses } },
    },
    (request) => read(request, (context) => readJar(context, request.params.id)),
  );
  app.post(
    '/api/jars/:id/acts',
    {
      config: { access: { staff: KEEPERS } },
      schema: {
        tags,
        summary: 'A jar was put away, used from, topped up, neutralised or handed to disposal',
        params: z.object({ id: Id }),
        body: RecordJarAct,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => write(request, (context) => recordJarAct(context, request.params.id, request.body)),
  );
};
export default routes;
