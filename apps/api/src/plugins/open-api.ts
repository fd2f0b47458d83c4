import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import fp from 'fastify-plugin';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { ALL_STAFF } from './access.ts';

/** The API's description at /api/openapi.json and a page over it at /api/docs; for staff, since it tells how the service is built. */
export default fp(
  async (app) => {
    await app.register(swagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Ashwater',
          version: '0.1.0',
          description:
            'Masses are integer milligrams. Numbers a person typed are sent as typed. Every write takes an Idempotency-Key. Errors are RFC 9457 problem documents; go by `code`.',
        },
      },
      transform: jsonSchemaTransform,
      transformObject: jsonSchemaTransformObject,
    });
    app.get('/api/openapi.json', { config: { access: { staff: ALL_STAFF } }, schema: { hide: true } }, async () => app.swagger());
    await app.register(async (pages) => {
      pages.addHook('onRoute', (route) => {
        route.config = { ...route.config, access: { staff: ALL_STAFF } };
      });
      await pages.register(swaggerUi, { routePrefix: '/api/docs' });
    });
  },
  { name: 'open-api', dependencies: ['access'] },
);
