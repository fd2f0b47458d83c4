import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import {
  AddAtStation,
  AddVisitor,
  BenchOut,
  BindDevice,
  Bound,
  Released,
  ClearRoom,
  ConfirmGear,
  Countersign,
  Created,
  Empty,
  GearState,
  Id,
  Join,
  JoinTarget,
  LapseGear,
  Me,
  MoveSeat,
  SeatSignOut,
  StopRoom,
  SendMessage,
} from '@ashwater/contracts';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { ALL_STAFF, cookieNames, PLANNERS } from '../../plugins/access.ts';
import { write, writeAsSeat } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { benchOf, bindDevice, releaseDevices } from './bench-service.ts';
import { addPerson, confirmForPerson, moveSeat, signOutPerson } from './presence-service.ts';
import { clearRoom, sendMessage, stopRoom } from './room-service.ts';
import { confirmGear, countersign, join, joinTarget, lapseGear, pauseGear, signSeatOut } from './service.ts';

const params = z.object({ id: Id });
const tags = ['gear'];
const SEAT_HOURS = 16;
const seatOnly = { access: { seat: true } } as const;

/** People without a device, people who move or left, and breaks. */
const presenceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/gear/lapse',
    {
      config: seatOnly,
      schema: { tags, summary: 'The wearer takes a break or leaves the bench', body: LapseGear, response: { 200: GearState, ...problemResponses } },
    },
    (request) => writeAsSeat(request, (context) => pauseGear(context, request.body)),
  );
  app.post(
    '/api/gear/visitors',
    { config: seatOnly, schema: { tags, summary: 'Somebody visits this station', body: AddVisitor, response: { 200: GearState, ...problemResponses } } },
    (request) =>
      writeAsSeat(request, (context) => addPerson(context, context.actor.classId, context.actor.classStationId, { ...request.body, kind: 'visitor' })),
  );
  app.post(
    '/api/gear/visitors/:id/left',
    { config: seatOnly, schema: { tags, summary: 'A visitor went away', params, body: Empty, response: { 200: Empty, ...problemResponses } } },
    (request) => writeAsSeat(request, (context) => signOutPerson(context, request.params.id)),
  );
  app.post(
    '/api/gear/visitors/:id/confirm',
    {
      config: seatOnly,
      schema: { tags, summary: 'A visitor confirms one item', params, body: ConfirmGear, response: { 200: GearState, ...problemResponses } },
    },
    (request) => writeAsSeat(request, (context) => confirmForPerson(context, request.params.id, request.body)),
  );
};

/** What staff do about people who are at a station, or no longer. */
const peopleRoutes: FastifyPluginAsyncZod = async (app) => {
  const staff = { access: { staff: ALL_STAFF } };
  app.post(
    '/api/classes/:id/people',
    { config: staff, schema: { tags, summary: 'Put somebody at a station', params, body: AddAtStation, response: { 200: GearState, ...problemResponses } } },
    (request) => write(request, (context) => addPerson(context, request.params.id, request.body.classStationId, request.body)),
  );
  app.post(
    '/api/seats/:id/confirm',
    {
      config: staff,
      schema: { tags, summary: 'A person without a device confirms one item', params, body: ConfirmGear, response: { 200: GearState, ...problemResponses } },
    },
    (request) => write(request, (context) => confirmForPerson(context, request.params.id, request.body)),
  );
  app.post(
    '/api/seats/:id/sign-out',
    { config: staff, schema: { tags, summary: 'Sign out somebody who left', params, body: Empty, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => signOutPerson(context, request.params.id)),
  );
  app.post(
    '/api/seats/:id/move',
    { config: staff, schema: { tags, summary: 'Move somebody to another station', params, body: MoveSeat, response: { 200: GearState, ...problemResponses } } },
    (request) => write(request, (context) => moveSeat(context, request.params.id, request.body)),
  );
};

/** What goes to everybody in the room. */
const roomRoutes: FastifyPluginAsyncZod = async (app) => {
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
  app.post(
    '/api/classes/:id/messages',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'A message to every station', params, body: SendMessage, response: { 200: Created, ...problemResponses } },
    },
    (request) => write(request, (context) => sendMessage(context, request.params.id, request.body)),
  );
};

/** The studio's own tablets. */
const benchRoutes: FastifyPluginAsyncZod = async (app) => {
  const { bench } = cookieNames(app.config.secureCookies);
  const binders = { access: { staff: ['owner', 'manager', 'instructor'] } } as const;
  const DAYS = 365;
  app.get(
    '/api/bench',
    { config: { access: 'public' }, schema: { tags, summary: 'What this tablet is bound to', response: { 200: BenchOut, ...problemResponses } } },
    (request) => benchOf({ db: app.db, now: app.clock() }, request.cookies[bench]),
  );
  app.post(
    '/api/stations/:id/bind',
    { config: binders, schema: { tags, summary: 'Bind this tablet to a station', params, body: BindDevice, response: { 200: Bound, ...problemResponses } } },
    async (request, reply) => {
      // The secret leaves in the cookie only: a stored answer must not hold it, so a repeat binds nothing anew.
      let cookie = '';
      const bound = await write(request, async (context) => {
        const made = await bindDevice(context, request.params.id, request.body.id);
        cookie = made.cookie;
        return { stationName: made.stationName };
      });
      if (cookie) reply.setCookie(bench, cookie, { path: '/', httpOnly: true, sameSite: 'lax', secure: app.config.secureCookies, maxAge: DAYS * 86_400 });
      return bound;
    },
  );
  app.post(
    '/api/stations/:id/release',
    { config: binders, schema: { tags, summary: 'Let go of a station’s tablets', params, body: Empty, response: { 200: Released, ...problemResponses } } },
    (request) => write(request, (context) => releaseDevices(context, request.params.id)),
  );
};

const routes: FastifyPluginAsyncZod = async (app) => {
  await app.register(benchRoutes);
  await app.register(presenceRoutes);
  await app.register(peopleRoutes);
  await app.register(roomRoutes);
  const names = cookieNames(app.config.secureCookies);
  const open = () => ({ db: app.db, now: app.clock() });
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
    { config: seatOnly, schema: { tags, summary: 'The wearer confirms one item', body: ConfirmGear, response: { 200: GearState, ...problemResponses } } },
    (request) => writeAsSeat(request, (context) => confirmGear(context, request.body)),
  );
  app.post(
    '/api/seat/sign-out',
    { config: seatOnly, schema: { tags, summary: 'Leave the station', body: SeatSignOut, response: { 200: Empty, ...problemResponses } } },
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
      schema: { tags, summary: 'A second person looked and signs', params, body: Countersign, Created, response: { 200: GearState, ...problemResponses } },
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
};
export default routes;
