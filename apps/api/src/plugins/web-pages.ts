import { pathToFileURL } from 'node:url';
import type { IncomingMessage, ServerResponse } from 'node:http';
import fp from 'fastify-plugin';

type Handler = (request: IncomingMessage, response: ServerResponse, next: (error?: unknown) => void) => void;

/** Everything that is not the API goes to the built pages, when the process was told where they are. */
export default fp(
  async (app) => {
    if (!app.config.webHandler) return;
    const { handler } = (await import(pathToFileURL(app.config.webHandler).href)) as { handler: Handler };
    // The body of a form must reach the pages unread.
    await app.register(async (pages) => {
      pages.removeAllContentTypeParsers();
      pages.addContentTypeParser('*', (_request, _payload, done) => done(null));
      pages.route({
        method: ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE'],
        url: '/*',
        schema: { hide: true },
        config: { access: 'public' },
        logLevel: 'warn',
        handler: async (request, reply) => {
          // An unknown address under /api must not come back as a page.
          if (request.url.startsWith('/api/')) return reply.callNotFound();
          for (const [name, value] of Object.entries(reply.getHeaders())) if (value !== undefined) reply.raw.setHeader(name, value);
          reply.hijack();
          handler(request.raw, reply.raw, () => {
            reply.raw.statusCode = 404;
            reply.raw.end();
          });
        },
      });
    });
  },
  { name: 'web-pages', dependencies: ['access'] },
);
