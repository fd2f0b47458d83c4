import fp from 'fastify-plugin';
import { openDatabase } from './database/database.ts';
import type { Database } from './database/database.ts';
import type { Clock } from './clock.ts';
import type { Config } from '../config.ts';

declare module 'fastify' {
  interface FastifyInstance {
    config: Config;
    clock: Clock;
    db: Database;
  }
}

export default fp(
  async (app) => {
    const db = openDatabase(app.config.appUrl, app.config.poolMax);
    app.decorate('db', db);
    app.addHook('onClose', () => db.close());
  },
  { name: 'database' },
);
