import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { AddPerson, Created, Empty, Me, People, SetUp, SetUpState, SignIn } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, cookieNames, KEEPERS } from '../../plugins/access.ts';
import { readOrm, write } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { addPerson, listPeople, meOf, preparePassword, readSession, readStudio, setUp, setUpNeeded, signIn, signOut, splitToken } from './service.ts';

const DAYS_30 = 30 * 86_400;

/** Set-up, sign-in and sign-out. None takes an Idempotency-Key: see DEVELOPERS.md, "A request's way". */
const signInRoutes: FastifyPluginAsyncZod = async (app) => {
  const names = cookieNames(app.config.secureCookies);
  const open = () => ({ db: app.db, now: app.clock() });
  const cookieOptions = { path: '/', httpOnly: true, sameSite: 'lax', secure: app.config.secureCookies } as const;

  async function answerSignedIn(reply: FastifyReply, cookie: string): Promise<Me> {
    reply.setCookie(names.session, cookie, { ...cookieOptions, maxAge: DAYS_30 });
    const token = splitToken(cookie)!;
    return app.db.transact(token.studioId, async (tx) => {
      const actor = await readSession(tx, token.studioId, token.secret, app.clock());
      const studio = await readStudio(tx, token.studioId);
      return meOf(actor && studio && { actor, studio });
    });
  }
  // Per address as well as per network: a class behind one address must get in, a guesser must not.
  const limited = {
    rateLimit: {
      max: 10,
      timeWindow: '1 minute',
      hook: 'preHandler',
      keyGenerator: (request: FastifyRequest) => `${request.ip} ${String((request.body as { email?: unknown } | undefined)?.email).toLowerCase()}`,
    },
  } as const;

  app.get(
    '/api/setup',
    { config: { access: 'public' }, schema: { tags: ['people'], summary: 'Whether the first-run set-up is open', response: { 200: SetUpState } } },
    async () => ({ needed: await setUpNeeded(open()) }),
  );

  app.post(
    '/api/setup',
    {
      config: { access: 'public', rateLimit: { max: 10, timeWindow: '1 minute' } },
      schema: {
        tags: ['people'],
        summary: 'First-run set-up: studio and owner, by the code on the console',
        body: SetUp,
        response: { 200: Me, ...problemResponses },
      },
    },
    async (request, reply) => {
      const { cookie } = await setUp(open(), app.config.setupCode, request.body);
      return answerSignedIn(reply, cookie);
    },
  );

  app.post(
    '/api/sign-in',
    { config: { access: 'public', ...limited }, schema: { tags: ['people'], summary: 'Sign in', body: SignIn, response: { 200: Me, ...problemResponses } } },
    async (request, reply) => {
      const { cookie } = await signIn(open(), request.body);
      return answerSignedIn(reply, cookie);
    },
  );

  app.post(
    '/api/sign-out',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags: ['people'], summary: 'End this session', response: { 200: Empty, ...problemResponses } } },
    async (request, reply) => {
      const who = request.who!;
      if (who.actor.kind === 'staff') {
        const { actor } = who;
        await app.db.transact(who.studio.id, (tx) => signOut({ tx, actor, studio: who.studio, now: app.clock() }));
      }
      reply.clearCookie(names.session, cookieOptions);
      return {};
    },
  );
};

const peopleRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/me',
    {
      config: { access: 'public' },
      schema: {
        tags: ['people'],
        summary: 'Who this browser is',
        querystring: z.object({ as: z.enum(['staff', 'seat']).default('staff') }),
        response: { 200: Me, ...problemResponses },
      },
    },
    async (request) => meOf(await app.identify(request.query.as, request)),
  );

  app.get(
    '/api/people',
    { config: { access: { staff: KEEPERS } }, schema: { tags: ['people'], summary: 'The studio’s people', response: { 200: People, ...problemResponses } } },
    (request) => readOrm(request, async (context) => ({ people: await listPeople(context) })),
  );

  app.post(
    '/api/people',
    {
      config: { access: { staff: ['owner'] } },
      schema: { tags: ['people'], summary: 'Add a person', body: AddPerson, response: { 200: Created, ...problemResponses } },
    },
    async (request) => {
      const { password, ...person } = request.body;
      const passwordHash = await preparePassword(password);
      return write(request, (context) => addPerson(context, person, passwordHash));
    },
  );
};
const routes: FastifyPluginAsyncZod = async (app) => {
  await app.register(signInRoutes);
  await app.register(peopleRoutes);
};
export default routes;
