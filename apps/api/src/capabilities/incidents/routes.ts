import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AddPicture, AddToNote, Created, FileNote, Id, MOST_PICTURE_TEXT, MyNotes, NoteFiled } from '@ashwater/contracts';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { ALL_STAFF } from '../../plugins/access.ts';
import { read, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { addPicture, addToNote } from './amend-service.ts';
import { fileNote } from './service.ts';
import { myNotes } from './status-service.ts';

const tags = ['incidents'];
const params = z.object({ id: Id });
const anybodyHere = { config: { access: { staff: ALL_STAFF, seat: true } } } as const;
/** What stands around a picture in its request. */
const pictureLimit = { bodyLimit: MOST_PICTURE_TEXT + 1_000 };

/** What a reporter does who is known: tell, add, and see what became of it. */
const routes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/notes',
    {
      ...anybodyHere,
      schema: { tags, summary: 'File a note under your name, or in confidence', body: FileNote, response: { 200: NoteFiled, ...problemResponses } },
    },
    (request) => write<NoteFiled, Actor>(request, (context) => fileNote(context, request.body)),
  );
  app.get(
    '/api/my-notes',
    {
      ...anybodyHere,
      schema: { tags, summary: 'What became of the notes you filed with your name or in confidence', response: { 200: MyNotes, ...problemResponses } },
    },
    (request) => read<z.infer<typeof MyNotes>, Actor>(request, async (context) => ({ notes: await myNotes(context) })),
  );
  app.post(
    '/api/notes/:id/amendments',
    {
      ...anybodyHere,
      schema: {
        tags,
        summary: 'Add to your own note, or as a reviewer ask about one',
        params,
        body: AddToNote,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => write<{ id: string }, Actor>(request, (context) => addToNote(context, request.params.id, request.body)),
  );
  app.post(
    '/api/notes/:id/pictures',
    {
      ...anybodyHere,
      ...pictureLimit,
      schema: {
        tags,
        summary: 'Add a picture; it is written anew without place, camera or time',
        params,
        body: AddPicture,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => write<{ id: string }, Actor>(request, (context) => addPicture(context, request.params.id, request.body)),
  );
};
export default routes;
