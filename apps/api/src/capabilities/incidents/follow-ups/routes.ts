import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Changes, Created, Empty, FollowUpAct, FollowUps, Id, NewChange, NewFollowUp } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { actOnFollowUp, addChange, addFollowUp, changesInForce, endChange, followUpsOf } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const staff = { config: { access: { staff: ALL_STAFF } } } as const;
const tags = ['incidents'];
const params = z.object({ id: Id });

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/follow-ups',
    {
      ...staff,
      schema: { tags, summary: 'Follow-ups: all of them for a reviewer, your own for everybody else', response: { 200: FollowUps, ...problemResponses } },
    },
    (request) => read(request, async (context) => ({ followUps: await followUpsOf(context) })),
  );
  app.post(
    '/api/follow-ups',
    { ...keepers, schema: { tags, summary: 'Open a follow-up to a note', body: NewFollowUp, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => addFollowUp(context, request.body)),
  );
  app.post(
    '/api/follow-ups/:id/acts',
    {
      ...staff,
      schema: { tags, summary: 'Give out, report done, verify or take up again', params, body: FollowUpAct, response: { 200: Created, ...problemResponses } },
    },
    (request) => write(request, (context) => actOnFollowUp(context, request.params.id, request.body)),
  );
  app.post(
    '/api/follow-ups/:id/changes',
    { ...keepers, schema: { tags, summary: 'Say what a follow-up changed', params, body: NewChange, response: { 200: Created, ...problemResponses } } },
    (request) => write(request, (context) => addChange(context, request.params.id, request.body)),
  );
  app.get(
    '/api/note-changes',
    { ...staff, schema: { tags, summary: 'What notes have changed and still holds', response: { 200: Changes, ...problemResponses } } },
    (request) => read(request, async ({ tx, studio }) => ({ changes: await changesInForce(tx, studio.id) })),
  );
  app.post(
    '/api/note-changes/:id/end',
    { ...keepers, schema: { tags, summary: 'End a change: cards from now on do not carry it', params, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => endChange(context, request.params.id)),
  );
};
export default routes;
