import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Id } from '@ashwater/contracts';
import type { LiveEvent } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF } from '../../plugins/access.ts';
import { read } from '../../plugins/handlers.ts';
import { DomainProblem } from '../../problems/domain-problem.ts';
import type { Actor } from '../../actor.ts';
import { lastSeq, since } from './service.ts';

const PAGE = 500;
/** More than this unsent means that the other end does not read: it is let go, and resumes when it comes back. */
const UNSENT_AT_MOST = 5_000;
/** A seat that signed out is still known by its token, so that it can be told so; it hears no more. */
const hasLeft = (actor: Actor): boolean => actor.kind === 'seat' && actor.signedOut;

/** How long an ended session may go on hearing. */
const RECHECK_MS = 5_000;

/** Sends events one after the other, each when the one before is on its way. */
function inTurn(reply: FastifyReply): (event: LiveEvent) => Promise<void> {
  let unsent = 0;
  let last = Promise.resolve();
  return (event) => {
    unsent += 1;
    if (unsent > UNSENT_AT_MOST) reply.sse.close();
    last = last
      .then(() => reply.sse.send({ id: String(event.seq), event: 'change', data: event }))
      .catch(() => {})
      .finally(() => void (unsent -= 1));
    return last;
  };
}

/** A stream has no end to wait for: the server's limit for an answer would cut it every half minute. No timer takes longer. */
const NO_LIMIT_MS = 2_147_483_647;

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/live',
    {
      sse: 'only',
      handlerTimeout: NO_LIMIT_MS,
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
      if (hasLeft(who.actor)) throw new DomainProblem('seat-signed-out', 'You signed out of this station. Join again with its code.');
      const classId = who.actor.kind === 'seat' ? who.actor.classId : (request.query.classId ?? null);
      const asked = Number(reply.sse.lastEventId ?? Number.NaN);
      const start = await read<number, Actor>(request, async ({ tx }) => {
        const last = await lastSeq(tx, who.studio.id);
        return Number.isSafeInteger(asked) && asked >= 0 ? Math.min(asked, last) : last;
      });
      const send = inTurn(reply);
      // A seat's id is half of what its phone needs to take it again after a lost answer: neighbours are not told it.
      const out = (event: LiveEvent) => send(who.actor.kind === 'seat' ? { ...event, subjectId: null } : event);
      // Events that arrive while the missed ones are read wait here, so that none falls between or comes twice.
      let waiting: LiveEvent[] | null = [];
      const listener = {
        studioId: who.studio.id,
        classId,
        lastSeq: start,
        send: (event: LiveEvent) => void (waiting ? waiting.push(event) : out(event)),
        end: () => reply.sse.close(),
      };
      const remove = app.live.add(listener);
      const recheck = setInterval(() => {
        void Promise.resolve(app.identify(who.actor.kind, request)).then(
          (found) => (found && !hasLeft(found.actor) ? undefined : reply.sse.close()),
          () => undefined,
        );
      }, RECHECK_MS);
      reply.sse.onClose(() => {
        clearInterval(recheck);
        remove();
      });
      reply.sse.keepAlive();
      await reply.sse.send({ id: String(start), event: 'hello', data: { seq: start } });
      let seq = start;
      for (let more = true; more;) {
        const missed = await read<LiveEvent[], Actor>(request, ({ tx }) => since(tx, who.studio.id, seq, PAGE));
        let sent = Promise.resolve();
        for (const event of missed) if (classId === null || event.classId === classId) sent = out(event);
        // one page on its way before the next is read: a long absence must not look like a reader that does not read
        await sent;
        seq = missed.at(-1)?.seq ?? seq;
        more = missed.length === PAGE;
      }
      for (const event of waiting) if (event.seq > seq) void out(event);
      waiting = null;
      listener.lastSeq = Math.max(listener.lastSeq, seq);
    },
  );
};
export default routes;
