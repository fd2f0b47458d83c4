import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ClearRoom, ConfirmGear, Countersign, Empty, GearState, Id, Join, JoinTarget, LapseGear, Me, SeatSignOut, StopRoom } from '@ashwater/contracts';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { ALL_STAFF, cookieNames, PLANNERS } from '../../plugins/access.ts';
import { write, writeAsSeat } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { clearRoom, stopRoom } from './room-service.ts';
import { confirmGear, countersign, join, joinTarget, lapseGear, signSeatOut } from './service.ts';

const params = z.object({ id: Id });
const tags = ['gear'];
const SEAT_HOURS = 16;

const routes: FastifyPluginAsyncZod = async (app) => {
  const names = cookieNames(app.config.secureCookies);
  const open = () => ({ db: app.db, now: app.clock() });
  const seat = { access: { seat: true } } as const;
  // A whole class joins from one address; a guesser of codes needs millions of tries.
  const joining = { access: 'public', rateLimit: { max: 120, timeWindow: '1 minute' } } as const;

  app.get(
    '/api/join/:code',
    {
      config: joining,
      schema: { tags, summary: 'What a code leads to', params: z.object({ code: z.string().max(20) }), response: { 200: JoinTarget, ...problemResponses } },
    },
    (request) => joinTarget(open(), request.params.code),
  );

  app.post(
    '/api/join',
    { config: joining, schema: { tags, summary: 'Take a seat at a station', body: Join, response: { 200: Me, ...problemResponses } } },
    async (request, reply) => {
      const staff = await app.identify('staff', request);
      const { me, cookie } = await join(open(), request.body, staff?.actor.id ?? null);
      reply.setCookie(names.seat, cookie, { path: '/', httpOnly: true, sameSite: 'lax', secure: app.config.secureCookies, maxAge: SEAT_HOURS * 3600 });
      return me;
    },
  );
  app.post(
    '/api/gear/confirm',
    { config: seat, schema: { tags, summary: 'The wearer confirms one item', body: ConfirmGear, response: { 200: GearState, ...problemResponses } } },
    (request) => writeAsSeat(request, (context) => confirmGear(context, request.body)),
  );
  app.post(
    '/api/seat/sign-out',
    { config: seat, schema: { tags, summary: 'Leave the station', body: SeatSignOut, response: { 200: Empty, ...problemResponses } } },
    async (request, reply) => {
      await writeAsSeat(request, signSeatOut);
      reply.clearCookie(names.seat, { path: '/' });
      return {};
    },
  );
  app.post(
    '/api/seats/:id/countersign',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'A second person looked and signs', params, body: Countersign, response: { 200: GearState, ...problemResponses } },
    },
    (request) => write(request, (context) => countersign(context, request.params.id, request.body)),
  );
  app.post(
    '/api/seats/:id/lapse',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'End a gear sign-off', params, body: LapseGear, response: { 200: GearState, ...problemResponses } },
    },
    (request) => write(request, (context) => lapseGear(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/stop',
    {
      config: { access: { staff: ALL_STAFF, seat: true } },
      schema: { tags, summary: 'Stop the room', params, body: StopRoom, response: { 200: Empty, ...problemResponses } },
    },
    (request) => write<Record<string, never>, Actor>(request, (context) => stopRoom(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/clear',
    {
      config: { access: { staff: PLANNERS } },
      schema: { tags, summary: 'Let the class go on', params, body: ClearRoom, response: { 200: Empty, ...problemResponses } },
    },
    (request) => write(request, (context) => clearRoom(context, request.params.id, request.body)),
  );
};
export default routes;
