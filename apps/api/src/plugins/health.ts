import fp from 'fastify-plugin';

/** /livez: the process answers. /readyz: it can also reach its database, migrated. */
export default fp(
  async (app) => {
    app.get('/livez', { config: { access: 'public' }, schema: { hide: true }, logLevel: 'warn' }, async () => ({ status: 'live' }));
    app.get('/readyz', { config: { access: 'public' }, schema: { hide: true }, logLevel: 'warn' }, async (request, reply) => {
      try {
        await app.db.lookUp.rows('SELECT any_studio()');
        return { status: 'ready' };
      } catch (error) {
        request.log.warn({ err: error }, 'not ready');
        return reply.code(503).send({ status: 'the database does not answer' });
      }
    });
  },
  { name: 'health', dependencies: ['access'] },
);
