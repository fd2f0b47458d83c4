import fp from 'fastify-plugin';
import { anchorStudio } from '../capabilities/stock/anchors/service.ts';

/**
 * Once a day, after the first request of a studio's own people, where its ledger ends is written to a file outside the database. On
 * a day when nobody asks anything nothing moves either, and the anchor before still holds.
 */
export default fp(
  async (app) => {
    const { anchorFile } = app.config;
    if (!anchorFile) return;
    const anchoredOn = new Map<string, string>();
    app.addHook('onResponse', async (request) => {
      const studioId = request.who?.studio.id;
      const today = app.clock().toISOString().slice(0, 10);
      if (!studioId || anchoredOn.get(studioId) === today) return;
      anchoredOn.set(studioId, today);
      // The answer is out; a full disk must not fail it, but whoever runs the service has to see it.
      await anchorStudio(app.db, anchorFile, studioId, app.clock()).catch((error: unknown) => {
        anchoredOn.delete(studioId);
        request.log.error({ err: error }, 'the ledger was not anchored');
      });
    });
  },
  { name: 'anchors', dependencies: ['database', 'access'] },
);
