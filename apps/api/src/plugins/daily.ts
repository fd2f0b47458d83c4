import fp from 'fastify-plugin';
import { blankInStudio } from '../capabilities/incidents/keeping/service.ts';
import { anchorStudio } from '../capabilities/stock/anchors/service.ts';

type Task = { failed: string; run(studioId: string, now: Date): Promise<unknown> };

/**
 * Once a day, after the first request of a studio's own people: where its ledger ends is written to a file outside the database, and
 * what its rule no longer keeps of notes is blanked. On a day when nobody asks anything the ledger does not move either, and the
 * anchor before still holds.
 */
export default fp(
  async (app) => {
    const { db } = app;
    const { anchorFile } = app.config;
    const tasks: Task[] = [{ failed: 'old notes were not blanked', run: (studioId, now) => blankInStudio(db, studioId, now) }];
    if (anchorFile) tasks.push({ failed: 'the ledger was not anchored', run: (studioId, now) => anchorStudio(db, anchorFile, studioId, now) });
    const doneOn = tasks.map(() => new Map<string, string>());
    app.addHook('onResponse', async (request) => {
      const studioId = request.who?.studio.id;
      if (!studioId) return;
      const now = app.clock();
      const today = now.toISOString().slice(0, 10);
      for (const [i, task] of tasks.entries()) {
        if (doneOn[i]!.get(studioId) === today) continue;
        doneOn[i]!.set(studioId, today);
        // The answer is out; a full disk must not fail it, but whoever runs the service has to see it.
        await task.run(studioId, now).catch((error: unknown) => {
          doneOn[i]!.delete(studioId);
          request.log.error({ err: error }, task.failed);
        });
      }
    });
  },
  { name: 'daily', dependencies: ['database', 'access'] },
);
