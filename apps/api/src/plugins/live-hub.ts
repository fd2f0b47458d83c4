import fp from 'fastify-plugin';
import type { LiveEvent } from '@ashwater/contracts';
import { CHANNEL, since } from '../capabilities/live/service.ts';

export type Listener = { studioId: string; classId: string | null; lastSeq: number; send(event: LiveEvent): void; end(): void };
export type LiveHub = { add(listener: Listener): () => void; count(): number; endAll(): void };

declare module 'fastify' {
  interface FastifyInstance {
    live: LiveHub;
  }
}

const REPLAY_AT_MOST = 2000;
const RETRY_MS = 500;

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
      for (const [studioId, seq] of from)
        for (const event of await app.db.transact(studioId, (tx) => since(tx, studioId, seq, REPLAY_AT_MOST))) offer(studioId, event);
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
      fresh.on('notification', ({ payload }) => {
        const { studioId, ...event } = JSON.parse(payload ?? '{}') as LiveEvent & { studioId: string };
        offer(studioId, event);
      });
      try {
        await fresh.connect();
        await fresh.query(`LISTEN ${CHANNEL}`);
        client = fresh;
        await catchUp();
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
