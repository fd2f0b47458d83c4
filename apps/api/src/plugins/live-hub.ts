import fp from 'fastify-plugin';
import type { LiveEvent } from '@ashwater/contracts';
import { CHANNEL, since } from '../capabilities/live/service.ts';
import type { Database } from './database/database.ts';

export type Listener = { studioId: string; classId: string | null; lastSeq: number; send(event: LiveEvent): void; end(): void };
export type LiveHub = { add(listener: Listener): () => void; count(): number; endAll(): void };

declare module 'fastify' {
  interface FastifyInstance {
    live: LiveHub;
  }
}

const PAGE = 1000;
const RETRY_MS = 500;

/** Every event of a studio after `seq`, however many, in order. */
async function eachAfter(db: Database, studioId: string, seq: number, take: (event: LiveEvent) => void): Promise<void> {
  for (let after = seq, more = true; more;) {
    const page = await db.transact(studioId, (tx) => since(tx, studioId, after, PAGE));
    for (const event of page) take(event);
    after = page.at(-1)?.seq ?? after;
    more = page.length === PAGE;
  }
}

/** One LISTEN connection for the process; events go on to the listeners of their studio and class, in order, once each. */
export default fp(
  async (app) => {
    const listeners = new Set<Listener>();
    let closing = false;
    let client: ReturnType<typeof app.db.directClient> | undefined;

    const offer = (studioId: string, event: LiveEvent) => {
      for (const listener of listeners) {
        if (listener.studioId !== studioId || event.seq <= listener.lastSeq) continue;
        listener.lastSeq = event.seq;
        if (listener.classId === null || listener.classId === event.classId) listener.send(event);
      }
    };

    // What was announced while nobody listened is in the table; every studio with a listener catches up from its oldest.
    const catchUp = async () => {
      const from = new Map<string, number>();
      for (const { studioId, lastSeq } of listeners) from.set(studioId, Math.min(lastSeq, from.get(studioId) ?? Infinity));
      for (const [studioId, seq] of from) await eachAfter(app.db, studioId, seq, (event) => offer(studioId, event));
    };

    const connect = async (): Promise<void> => {
      if (closing) return;
      const fresh = app.db.directClient();
      let gone = false;
      const again = () => {
        if (gone) return;
        gone = true;
        void fresh.end().catch(() => {});
        if (!closing) setTimeout(() => void connect(), RETRY_MS).unref();
      };
      fresh.on('error', again);
      fresh.on('end', again);
      // What is announced while this connection catches up waits: offered first, it would push aside what was missed before it.
      let early: (() => void)[] | null = [];
      fresh.on('notification', ({ payload }) => {
        const { studioId, ...event } = JSON.parse(payload ?? '{}') as LiveEvent & { studioId: string };
        if (early) early.push(() => offer(studioId, event));
        else offer(studioId, event);
      });
      try {
        await fresh.connect();
        await fresh.query(`LISTEN ${CHANNEL}`);
        client = fresh;
        await catchUp();
        for (const late of early) late();
        early = null;
      } catch (error) {
        app.log.warn({ err: error }, 'the live connection failed; trying again');
        again();
      }
    };

    app.decorate('live', {
      add: (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
      count: () => listeners.size,
      endAll: () => {
        for (const listener of [...listeners]) listener.end();
      },
    });
    app.addHook('onReady', connect);
    app.addHook('preClose', async () => {
      closing = true;
      app.live.endAll();
      await client?.end().catch(() => {});
    });
  },
  { name: 'live-hub', dependencies: ['database'] },
);
