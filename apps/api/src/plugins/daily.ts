import fp from 'fastify-plugin';
import type { Studio } from '../actor.ts';
import { blankInStudio } from '../capabilities/incidents/keeping/service.ts';
import { anchorStudio } from '../capabilities/stock/anchors/service.ts';

/** `doneOn`: the day it was last done, by studio. */
type Task = { failed: string; doneOn: Map<string, string>; run(studio: Studio, now: Date): Promise<unknown> };

/**
 * Once a day, after the first request of a studio's own people: where its ledger ends is written to a file outside the database, and
 * what its rule no longer keeps of notes is blanked. On a day when nobody asks anything the ledger does not move either, and the
 * anchor before still holds.
 */
export default fp(
  async (app) => {
    const { db } = app;
    const { anchorFile } = app.config;
    const tasks: Task[] = [{ failed: 'old notes were not blanked', doneOn: new Map(), run: (studio, now) => blankInStudio(db, studio, now) }];
    if (anchorFile) tasks.push({ failed: 'the ledger was not anchored', doneOn: new Map(), run: ({ id }, now) => anchorStudio(db, anchorFile, id, now) });
    app.addHook('onResponse', async (request) => {
      const studio = request.who?.studio;
      if (!studio) return;
      const now = app.clock();
      const today = now.toISOString().slice(0, 10);
      for (const { failed, doneOn, run } of tasks) {
        if (doneOn.get(studio.id) === today) continue;
        doneOn.set(studio.id, today);
        // The answer is out; a full disk must not fail it, but whoever runs the service has to see it.
        await run(studio, now).catch((error: unknown) => {
          doneOn.delete(studio.id);
          request.log.error({ err: error }, failed);
        });
      }
    });
  },
  { name: 'daily', dependencies: ['database', 'access'] },
);
