import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import {
  ApproveChange,
  CardChangeOut,
  CardOut,
  CheckOutcome,
  CheckReading,
  Empty,
  EnterPaper,
  PaperEntered,
  Id,
  ProposalOut,
  ReadingOut,
  RecordReading,
  StaffCheckReading,
} from '@ashwater/contracts';
import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { ALL_STAFF, PLANNERS } from '../../plugins/access.ts';
import { read, write, writeAsSeat } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import { approveChange, proposalFor } from './change-service.ts';
import { checkReading } from './check-service.ts';
import { enterPaper } from './paper-service.ts';
import { finishStep, getCard, recordReading } from './service.ts';

const params = z.object({ id: Id });
const tags = ['weigh cards'];
const seat = { access: { seat: true } } as const;

/** Two addresses for one act: on a device with both cookies it must be plain who reads. */
const checkRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/readings/:id/check',
    {
      config: seat,
      schema: {
        tags,
        summary: 'A second person reads the scale, at the station',
        params,
        body: CheckReading,
        response: { 200: CheckOutcome, ...problemResponses },
      },
    },
    (request) => writeAsSeat(request, (context) => checkReading(context, request.params.id, request.body)),
  );
  app.post(
    '/api/readings/:id/staff-check',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: {
        tags,
        summary: 'Staff read the scale as the second person',
        params,
        body: StaffCheckReading,
        response: { 200: CheckOutcome, ...problemResponses },
      },
    },
    (request) => write(request, (context) => checkReading(context, request.params.id, request.body)),
  );
};

const paperRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/api/cards/:id/paper',
    {
      config: { access: { staff: ALL_STAFF } },
      schema: { tags, summary: 'Enter what stands on a printed card', params, body: EnterPaper, response: { 200: PaperEntered, ...problemResponses } },
    },
    (request) => write(request, (context) => enterPaper(context, request.params.id, request.body)),
  );
};

const routes: FastifyPluginAsyncZod = async (app) => {
  await app.register(paperRoutes);
  await app.register(checkRoutes);
  app.get(
    '/api/cards/:id',
    { config: { access: { staff: ALL_STAFF } }, schema: { tags, summary: 'One weigh card', params, response: { 200: CardOut, ...problemResponses } } },
    (request) => read(request, (context) => getCard(context, request.params.id)),
  );

  app.post(
    '/api/cards/:id/readings',
    {
      config: seat,
      schema: { tags, summary: 'Record what the scale or thermometer showed', params, body: RecordReading, response: { 200: ReadingOut, ...problemResponses } },
    },
    (request) => writeAsSeat(request, (context) => recordReading(context, request.params.id, request.body)),
  );

  app.post(
    '/api/cards/:id/steps/:stepNo/done',
    {
      config: seat,
      schema: {
        tags,
        summary: 'The step is done',
        params: params.extend({ stepNo: z.coerce.number().int().min(1).max(200) }),
        body: Empty,
        response: { 200: z.object({ currentStepNo: z.int().nullable() }), ...problemResponses },
      },
    },
    (request) => writeAsSeat(request, (context) => finishStep(context, request.params.id, request.params.stepNo)),
  );

  app.get(
    '/api/cards/:id/proposal',
    {
      config: { access: { staff: ALL_STAFF, seat: true } },
      schema: {
        tags,
        summary: 'What can be done after a reading off target; nothing is changed by asking',
        params,
        querystring: z.object({
          stepNo: z.coerce.number().int().min(1).max(200).optional().describe('the step whose turn it is when left out'),
          mixed: z.enum(['true', 'false']).default('true'),
        }),
        response: { 200: ProposalOut, ...problemResponses },
      },
    },
    (request) =>
      read<ProposalOut, Actor>(request, (context) =>
        proposalFor(context, request.params.id, { stepNo: request.query.stepNo ?? null, mixed: request.query.mixed === 'true' }),
      ),
  );
  app.post(
    '/api/cards/:id/changes',
    {
      config: { access: { staff: PLANNERS } },
      schema: { tags, summary: 'Approve a change of a card', params, body: ApproveChange, response: { 200: CardChangeOut, ...problemResponses } },
    },
    (request) => write(request, (context) => approveChange(context, request.params.id, request.body)),
  );
};
export default routes;
