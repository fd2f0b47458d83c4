import { pathToFileURL } from 'node:url';
import type { IncomingMessage, ServerResponse } from 'node:http';
import fp from 'fastify-plugin';

type Handler = (request: IncomingMessage, response: ServerResponse, next: (error?: unknown) => void) => void;

/** Everything that is not the API goes to the built pages, when the process was told where they are. */
export default fp(
  async (app) => {
    if (!app.config.webHandler) return;
    // Behind the handler nobody else may say where a request came from: these names are overwritten below on every request.
    process.env.PROTOCOL_HEADER = 'x-forwarded-proto';
    process.env.HOST_HEADER = 'x-forwarded-host';
    process.env.ADDRESS_HEADER = 'x-forwarded-for';
    // A picture of up to 12 MB or a data sheet of up to 5 MB comes with a form; a little more is let in, so that one too large is told so in words.
    process.env.BODY_SIZE_LIMIT = '16M';
    const outside = app.config.publicOrigin ? new URL(app.config.publicOrigin) : undefined;
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
          request.raw.headers['x-forwarded-proto'] = outside?.protocol.replace(':', '') ?? request.protocol;
          request.raw.headers['x-forwarded-host'] = outside?.host ?? request.host;
          request.raw.headers['x-forwarded-for'] = request.ip;
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
