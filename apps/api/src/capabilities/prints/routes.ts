import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ClassQuery, Id, LABEL_SHEET_KEYS, LABEL_SHEETS, MOST_OFFSET_MM, PrintPaper } from '@ashwater/contracts';
import { z } from 'zod';
import { ALL_STAFF, KEEPERS } from '../../plugins/access.ts';
import { read, readOrm } from '../../plugins/handlers.ts';
import { problemResponses } from '../../plugins/problems.ts';
import * as prints from './service.ts';

const params = z.object({ id: Id });
const paper = z.object({ paper: PrintPaper.default('a4') });
const pull = paper.extend(ClassQuery.shape);
const shift = z.coerce.number().min(-MOST_OFFSET_MM).max(MOST_OFFSET_MM).default(0);
const grid = z.object({ grid: z.enum(LABEL_SHEET_KEYS).default(LABEL_SHEET_KEYS[0]), x: shift.describe('mm to the right'), y: shift.describe('mm down') });
const MOST_LABELS = Math.max(...Object.values(LABEL_SHEETS).map((sheet) => sheet.labels));
const labels = grid.extend({
  start: z.coerce.number().int().min(1).max(MOST_LABELS).default(1).describe('the first label to print on, row by row'),
  card: Id.optional().describe('one card of the class only'),
});

const containerLabels = labels.omit({ card: true }).extend({ container: Id.optional().describe('one container of the lot only') });

const tags = ['prints'];
const file = (type: string) => ({ 200: { description: 'A file', content: { [type]: { schema: z.any() } } }, ...problemResponses });
const pdf = file('application/pdf');
const staff = { access: { staff: ALL_STAFF } };

/** Where the QR codes lead: the public address, else the one the request came to. */
const originOf = (request: FastifyRequest): string => request.server.config.publicOrigin ?? `${request.protocol}://${request.host}`;

async function send(reply: FastifyReply, made: Promise<prints.PrintFile>, type = 'application/pdf', how: 'inline' | 'attachment' = 'inline'): Promise<Buffer> {
  const { name, bytes } = await made;
  void reply.type(type).header('content-disposition', `${how}; filename="${name}"`).header('cache-control', 'no-store');
  return bytes;
}

const forStations: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/classes/:id/prints/cards.pdf',
    { config: staff, schema: { tags, summary: 'The weigh cards of a class', params, querystring: paper, response: pdf } },
    (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      return send(
        reply,
        read(request, (context) => prints.printCards(context, request.params.id, wish)),
      );
    },
  );
  app.get(
    '/api/classes/:id/prints/gear.pdf',
    { config: staff, schema: { tags, summary: 'The gear list of each station', params, querystring: paper, response: pdf } },
    (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      return send(
        reply,
        read(request, (context) => prints.printGear(context, request.params.id, wish)),
      );
    },
  );
  app.get(
    '/api/classes/:id/prints/labels.pdf',
    { config: staff, schema: { tags, summary: 'Jar labels on a label sheet', params, querystring: labels, response: pdf } },
    (request, reply) => {
      const { x, y, card, ...where } = request.query;
      const wish = { ...where, offset: { xMm: x, yMm: y }, origin: originOf(request), cardId: card };
      return send(
        reply,
        read(request, (context) => prints.printLabels(context, request.params.id, wish)),
      );
    },
  );
  app.get(
    '/api/prints/calibration.pdf',
    { config: staff, schema: { tags, summary: 'Frames of a label sheet and two rulers', querystring: grid, response: pdf } },
    (request, reply) => {
      const { x, y, ...where } = request.query;
      return send(
        reply,
        read(request, (context) => prints.printCalibration(context, where.grid, { xMm: x, yMm: y })),
      );
    },
  );
};

const forTheRoom: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/classes/:id/prints/class-sheet.pdf',
    { config: staff, schema: { tags, summary: 'Stations, recipe, totals and roster', params, querystring: paper, response: pdf } },
    (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      return send(
        reply,
        readOrm(request, (context) => prints.printClassSheet(context, request.params.id, wish)),
      );
    },
  );
  app.get(
    '/api/classes/:id/prints/pull-list.pdf',
    { config: staff, schema: { tags, summary: 'What to fetch for a class', params, querystring: pull, response: pdf } },
    (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      return send(
        reply,
        readOrm(request, (context) => prints.printPullList(context, request.params.id, wish)),
      );
    },
  );
  app.get(
    '/api/classes/:id/prints/pull-list.csv',
    { config: staff, schema: { tags, summary: 'What to fetch, for a spreadsheet', params, querystring: ClassQuery, response: file('text/csv') } },
    (request, reply) => {
      const made = readOrm(request, (context) => prints.pullListCsv(context, request.params.id, request.query.spare));
      return send(reply, made, 'text/csv; charset=utf-8', 'attachment');
    },
  );
  app.get(
    '/api/classes/:id/prints/first-aid.pdf',
    { config: staff, schema: { tags, summary: 'First aid and cautions', params, querystring: paper, response: pdf } },
    async (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      const facts = await readOrm(request, (context) => prints.firstAidFacts(context, request.params.id));
      return send(
        reply,
        read(request, (context) => prints.printFirstAid(context, facts, wish)),
      );
    },
  );
  app.get(
    '/api/prints/cabinet.pdf',
    { config: { access: { staff: KEEPERS } }, schema: { tags, summary: 'The sheet of a blind count', querystring: paper, response: pdf } },
    (request, reply) => {
      const wish = { ...request.query, origin: originOf(request) };
      return send(
        reply,
        read(request, (context) => prints.printCabinet(context, wish)),
      );
    },
  );
};

const forTheCabinet: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/lots/:id/prints/labels.pdf',
    { config: staff, schema: { tags, summary: 'Container labels on a label sheet', params, querystring: containerLabels, response: pdf } },
    (request, reply) => {
      const { x, y, container, ...where } = request.query;
      const wish = { ...where, offset: { xMm: x, yMm: y }, origin: originOf(request), containerId: container };
      return send(
        reply,
        read(request, (context) => prints.printContainerLabels(context, request.params.id, wish)),
      );
    },
  );
};

const routes: FastifyPluginAsyncZod = async (app) => {
  await app.register(forStations);
  await app.register(forTheRoom);
  await app.register(forTheCabinet);
};
export default routes;
