import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import {
  AmendClass,
  AmendOut,
  CancelClass,
  Cards,
  ChangeStation,
  CheckWeighIn,
  CheckWeighOut,
  ClassCheckIn,
  ClassOut,
  ClassQuery,
  Classes,
  CopyClass,
  CreateClass,
  Created,
  Empty,
  FloorView,
  Id,
  MoveClass,
  PublishClass,
  StationDetail,
  StationIn,
  StationView,
  Stations,
} from '@ashwater/contracts';
import { z } from 'zod';
import type { Seat } from '../../actor.ts';
import { ALL_STAFF, PLANNERS } from '../../plugins/access.ts';
import { read, readOrm, write, writeOrm } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { amendClass } from './amend-service.ts';
import { floorView } from './floor-service.ts';
import { cancelClass, copyClass, moveClass } from './life-service.ts';
import { recordClassCheck } from './ready-service.ts';
import { closeClass, createClass, getClass, getClassCards, listClasses, publishClass, updateClass } from './service.ts';
import { addStation, changeStation, getStation, listStations, recordCheck } from './station-service.ts';
import { stationView } from './station-view-service.ts';

const params = z.object({ id: Id });
const tags = ['classes'];
const readers = { access: { staff: ALL_STAFF } };
const planners = { access: { staff: PLANNERS } };

const benchKeepers = { access: { staff: ['owner', 'instructor', 'manager'] } } as const;

/** Benches: set up once, checked now and then. */
const stationRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/stations',
    { config: readers, schema: { tags: ['stations'], summary: 'The studio’s stations', response: { 200: Stations, ...problemResponses } } },
    (request) => readOrm(request, async (context) => ({ stations: await listStations(context) })),
  );
  app.post(
    '/api/stations',
    {
      config: benchKeepers,
      schema: { tags: ['stations'], summary: 'Add a station', body: StationIn, response: { 200: Created, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => addStation(context, request.body)),
  );

  app.get(
    '/api/stations/:id',
    {
      config: readers,
      schema: { tags: ['stations'], summary: 'One station with the checks of its scales', params, response: { 200: StationDetail, ...problemResponses } },
    },
    (request) => readOrm(request, (context) => getStation(context, request.params.id)),
  );
  app.put(
    '/api/stations/:id',
    {
      config: benchKeepers,
      schema: { tags: ['stations'], summary: 'Change a station’s set-up', params, body: ChangeStation, response: { 200: Created, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => changeStation(context, request.params.id, request.body)),
  );
  app.post(
    '/api/stations/:id/check-weighings',
    {
      config: benchKeepers,
      schema: {
        tags: ['stations'],
        summary: 'Record what a scale showed with a known mass',
        params,
        body: CheckWeighIn,
        response: { 200: CheckWeighOut, ...problemResponses },
      },
    },
    (request) => writeOrm(request, (context) => recordCheck(context, request.params.id, request.body)),
  );
};

const classRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/api/classes', { config: readers, schema: { tags, summary: 'Classes, newest first', response: { 200: Classes, ...problemResponses } } }, (request) =>
    readOrm(request, async (context) => ({ classes: await listClasses(context) })),
  );
  app.post(
    '/api/classes',
    { config: planners, schema: { tags, summary: 'Prepare a class', body: CreateClass, response: { 200: Created, ...problemResponses } } },
    (request) => writeOrm(request, (context) => createClass(context, request.body)),
  );
  app.get(
    '/api/classes/:id',
    {
      config: readers,
      schema: {
        tags,
        summary: 'One class with what is ready and what is not',
        params,
        querystring: ClassQuery,
        response: { 200: ClassOut, ...problemResponses },
      },
    },
    (request) => readOrm(request, (context) => getClass(context, request.params.id, request.query.spare)),
  );
  app.put(
    '/api/classes/:id',
    {
      config: planners,
      schema: { tags, summary: 'Change a class that is not published', params, body: CreateClass, response: { 200: Created, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => updateClass(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/publish',
    {
      config: planners,
      schema: { tags, summary: 'Issue the weigh cards and open the class', params, body: PublishClass, response: { 200: Cards, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => publishClass(context, request.params.id)),
  );
  app.post(
    '/api/classes/:id/close',
    { config: planners, schema: { tags, summary: 'Close the class', params, body: Empty, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => closeClass(context, request.params.id)),
  );
  app.get(
    '/api/classes/:id/cards',
    { config: readers, schema: { tags, summary: 'The class’s weigh cards', params, response: { 200: Cards, ...problemResponses } } },
    (request) => read(request, (context) => getClassCards(context, request.params.id)),
  );
  app.get(
    '/api/classes/:id/floor',
    { config: readers, schema: { tags, summary: 'All stations at once', params, response: { 200: FloorView, ...problemResponses } } },
    (request) => read(request, (context) => floorView(context, request.params.id)),
  );
  app.get(
    '/api/station',
    {
      config: { access: { seat: true } },
      schema: { tags, summary: 'What the station’s page shows to this seat', response: { 200: StationView, ...problemResponses } },
    },
    (request) => read<StationView, Seat>(request, stationView),
  );
};

/** What happens to a class after it was written: looked at, amended, moved, cancelled, held again. */
const lifeRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/classes/:id/amend',
    {
      config: planners,
      schema: { tags, summary: 'New issues of the cards of chosen stations', params, body: AmendClass, response: { 200: AmendOut, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => amendClass(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/checks',
    {
      config: readers,
      schema: {
        tags,
        summary: 'Say of one thing in the room whether it is sound',
        params,
        body: ClassCheckIn,
        response: { 200: Created, ...problemResponses },
      },
    },
    (request) => writeOrm(request, (context) => recordClassCheck(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/cancel',
    { config: planners, schema: { tags, summary: 'Cancel a class', params, body: CancelClass, response: { 200: Created, ...problemResponses } } },
    (request) => writeOrm(request, (context) => cancelClass(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/move',
    { config: planners, schema: { tags, summary: 'Another day, time or room', params, body: MoveClass, response: { 200: Created, ...problemResponses } } },
    (request) => writeOrm(request, (context) => moveClass(context, request.params.id, request.body)),
  );
  app.post(
    '/api/classes/:id/copy',
    {
      config: planners,
      schema: { tags, summary: 'The same class for another day, as a draft', params, body: CopyClass, response: { 200: Created, ...problemResponses } },
    },
    (request) => writeOrm(request, (context) => copyClass(context, request.params.id, request.body)),
  );
};

const routes: FastifyPluginAsyncZod = async (app) => {
  await app.register(stationRoutes);
  await app.register(classRoutes);
  await app.register(lifeRoutes);
};
export default routes;
