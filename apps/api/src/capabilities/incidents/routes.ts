import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Created, FileAnonymousNote, FileNote, Id, NoteFiled, NoteOut, Notes, NoteStatus, ReviewNote } from '@ashwater/contracts';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { ALL_STAFF, KEEPERS } from '../../plugins/access.ts';
import { read, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { fileAnonymousNote, fileNote, listNotes, noteStatus, readNote, reviewNote } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['incidents'];
// A whole class may stand behind one address. Counted in memory only; nothing about the caller is written, not even a log line.
const nameless = { logLevel: 'silent', config: { access: 'public', rateLimit: { max: 30, timeWindow: '1 minute' } } } as const;

const routes: FastifyPluginAsyncZod = async (app) => {
  const open = () => ({ db: app.db, now: app.clock() });

  app.post(
    '/api/notes',
    {
      config: { access: { staff: ALL_STAFF, seat: true } },
      schema: { tags, summary: 'File a note under your name', body: FileNote, response: { 200: NoteFiled, ...problemResponses } },
    },
    (request) => write<z.infer<typeof NoteFiled>, Actor>(request, (context) => fileNote(context, request.body)),
  );
  app.post(
    '/api/notes/anonymous',
    {
      ...nameless,
      schema: {
        tags,
        summary: 'File a note without your name',
        description: 'Send no cookie and no Idempotency-Key. The same id sent again gets the same answer.',
        body: FileAnonymousNote,
        response: { 200: NoteFiled, ...problemResponses },
      },
    },
    (request) => fileAnonymousNote(open(), request.body),
  );
  app.get(
    '/api/note-status/:returnCode',
    {
      ...nameless,
      schema: {
        tags,
        summary: 'What became of an anonymous note',
        params: z.object({ returnCode: z.string().max(40) }),
        querystring: z.object({ code: z.string().max(20) }),
        response: { 200: NoteStatus, ...problemResponses },
      },
    },
    (request) => noteStatus(open(), request.params.returnCode, request.query.code),
  );

  app.get('/api/notes', { ...keepers, schema: { tags, summary: 'Incident and near-miss notes', response: { 200: Notes, ...problemResponses } } }, (request) =>
    read(request, async (context) => ({ notes: await listNotes(context) })),
  );
  app.get(
    '/api/notes/:id',
    { ...keepers, schema: { tags, summary: 'A note with its reviews', params: z.object({ id: Id }), response: { 200: NoteOut, ...problemResponses } } },
    (request) => read(request, (context) => readNote(context, request.params.id)),
  );
  app.post(
    '/api/notes/:id/reviews',
    { ...keepers, schema: { tags, summary: 'Review a note', params: z.object({ id: Id }), body: ReviewNote, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => reviewNote(context, request.params.id, request.body)),
  );
};
export default routes;
