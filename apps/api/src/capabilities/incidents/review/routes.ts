import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Created, Id, MergeNote, NoteOut, Notes, NoteWriter, ReviewNote, TriageNote } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { readPictureBytes } from '../amend-service.ts';
import { askWriter, listNotes, readNote, reviewNote } from '../service.ts';
import { mergeNote, triageNote } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['incidents'];
const params = z.object({ id: Id });
const jpeg = { 200: { description: 'A picture', content: { 'image/jpeg': { schema: z.any() } } }, ...problemResponses };

/** What a reviewer does with notes. */
const routes: FastifyPluginAsyncZod = async (app) => {
  app.get('/api/notes', { ...keepers, schema: { tags, summary: 'Incident and near-miss notes', response: { 200: Notes, ...problemResponses } } }, (request) =>
    read(request, async (context) => ({ notes: await listNotes(context) })),
  );
  app.get(
    '/api/notes/:id',
    { ...keepers, schema: { tags, summary: 'A note with its reviews', params, response: { 200: NoteOut, ...problemResponses } } },
    (request) => read(request, (context) => readNote(context, request.params.id)),
  );
  app.post(
    '/api/notes/:id/reviews',
    { ...keepers, schema: { tags, summary: 'Review a note', params, body: ReviewNote, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => reviewNote(context, request.params.id, request.body)),
  );
  app.post(
    '/api/notes/:id/triage',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Judge a note: harm, kind, causes, what it is about',
        params,
        body: TriageNote,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => write(request, (context) => triageNote(context, request.params.id, request.body)),
  );
  app.post(
    '/api/notes/:id/merge',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Put a note with another that tells of the same thing, or take it apart',
        params,
        body: MergeNote,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => write(request, (context) => mergeNote(context, request.params.id, request.body)),
  );
  app.post(
    '/api/notes/:id/writer',
    {
      ...keepers,
      schema: { tags, summary: 'Ask who told a note; every asking is in the audit', params, response: { 200: NoteWriter, ...problemResponses } },
    },
    (request) => write(request, (context) => askWriter(context, request.params.id)),
  );
  app.get('/api/note-pictures/:id', { ...keepers, schema: { tags, summary: 'A picture of a note', params, response: jpeg } }, async (request, reply) => {
    const bytes = await read(request, (context) => readPictureBytes(context, request.params.id));
    void reply
      .type('image/jpeg')
      .header('x-content-type-options', 'nosniff')
      .header('content-security-policy', "default-src 'none'; sandbox")
      .header('cache-control', 'private, no-store');
    return bytes;
  });
};
export default routes;
