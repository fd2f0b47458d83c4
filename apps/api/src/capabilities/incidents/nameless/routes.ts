import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AddAnonymousPicture, AnswerAnonymously, Empty, FileAnonymousNote, MOST_PICTURE_TEXT, NoteFiled, NotePlace, NoteStatus } from '@ashwater/contracts';
import { z } from 'zod';
import { problemResponses } from '../../../plugins/problems.ts';
import { addAnonymousPicture, fileAnonymousNote, notePlace } from './service.ts';
import { answerByCode, noteStatus } from '../status-service.ts';

const tags = ['incidents'];
const byCode = z.object({ returnCode: z.string().max(40) });
// A whole class may stand behind one address. Counted in memory only; nothing about the caller is written, not even a log line.
const nameless = { logLevel: 'silent', config: { access: 'public', rateLimit: { max: 30, timeWindow: '1 minute' } } } as const;

/** What a reporter does of whom nothing may be known. */
const routes: FastifyPluginAsyncZod = async (app) => {
  const open = () => ({ db: app.db, now: app.clock() });

  app.get(
    '/api/note-place/:code',
    {
      ...nameless,
      schema: {
        tags,
        summary: 'Where a code leads that notes can be filed by',
        params: z.object({ code: z.string().max(20) }),
        response: { 200: NotePlace, ...problemResponses },
      },
    },
    (request) => notePlace(open(), request.params.code),
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
  app.post(
    '/api/notes/anonymous/pictures',
    {
      ...nameless,
      // What stands around a picture in its request comes on top.
      bodyLimit: MOST_PICTURE_TEXT + 1_000,
      schema: {
        tags,
        summary: 'Add a picture to an anonymous note, by the id its writer gave it',
        body: AddAnonymousPicture,
        response: { 200: Empty, ...problemResponses },
      },
    },
    (request) => addAnonymousPicture(open(), request.body),
  );
  app.get(
    '/api/note-status/:returnCode',
    {
      ...nameless,
      schema: {
        tags,
        summary: 'What became of a note, by its return code',
        params: byCode,
        querystring: z.object({ code: z.string().max(20) }),
        response: { 200: NoteStatus, ...problemResponses },
      },
    },
    (request) => noteStatus(open(), request.params.returnCode, request.query.code),
  );
  app.post(
    '/api/note-status/:returnCode/answers',
    {
      ...nameless,
      schema: { tags, summary: 'Answer or add by return code', params: byCode, body: AnswerAnonymously, response: { 200: NoteStatus, ...problemResponses } },
    },
    (request) => answerByCode(open(), request.params.returnCode, request.body),
  );
};
export default routes;
