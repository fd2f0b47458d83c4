import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Id } from '@ashwater/contracts';
import type { LiveEvent } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF } from '../../plugins/access.ts';
import { read } from '../../plugins/handlers.ts';
import type { Actor } from '../../actor.ts';
import { lastSeq, since } from './service.ts';

const REPLAY_AT_MOST = 500;
/** How long an ended session may go on hearing. */
const RECHECK_MS = 5_000;

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/live',
    {
      sse: 'only',
      config: { access: { staff: ALL_STAFF, seat: true } },
      schema: {
        tags: ['live'],
        summary: 'What happens, as server-sent events: ids only',
        description: 'data is a LiveEvent. Resumes after Last-Event-ID. A seat hears its own class only.',
        querystring: z.object({ classId: Id.optional() }),
      },
    },
    async (request, reply) => {
      const who = request.who!;
      const classId = who.actor.kind === 'seat' ? who.actor.classId : (request.query.classId ?? null);
      const resumeAfter = Number(reply.sse.lastEventId ?? Number.NaN);
      const resumes = Number.isSafeInteger(resumeAfter) && resumeAfter >= 0;
      // Events that arrive while the starting point is read wait here, so that none falls between.
      let waiting: LiveEvent[] | null = [];
      const send = (event: LiveEvent) => void reply.sse.send({ id: String(event.seq), event: 'change', data: event }).catch(() => {});
      const remove = app.live.add({
        studioId: who.studio.id,
        classId,
        lastSeq: -1,
        send: (event) => (waiting ? void waiting.push(event) : send(event)),
        end: () => reply.sse.close(),
      });
      reply.sse.keepAlive();
      const from = await read<{ seq: number; missed: LiveEvent[] }, Actor>(request, async ({ tx }) => {
        const missed = resumes ? await since(tx, who.studio.id, resumeAfter, REPLAY_AT_MOST) : [];
        return { seq: missed.at(-1)?.seq ?? (await lastSeq(tx, who.studio.id)), missed };
      });
      await reply.sse.send({ id: String(from.seq), event: 'hello', data: { seq: from.seq } });
      for (const event of from.missed) if (classId === null || event.classId === classId) send(event);
      for (const event of waiting) if (event.seq > from.seq) send(event);
      waiting = null;
      const recheck = setInterval(() => {
        void Promise.resolve(app.identify(who.actor.kind, request)).then(
          (found) => (found ? undefined : reply.sse.close()),
          () => undefined,
        );
      }, RECHECK_MS);
      reply.sse.onClose(() => {
        clearInterval(recheck);
        remove();
      });
    },
  );
};
export default routes;
