import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import {
  Created,
  Empty,
  Id,
  ImportedLots,
  ImportLots,
  Ledger,
  LedgerCheck,
  LedgerCheckQuery,
  LedgerQuery,
  LotsFile,
  MakeReport,
  ReportOut,
  Reports,
  StockCharts,
} from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { exportLots, importLots } from './lots-csv-service.ts';
import { listReports, makeReport, readReport, signReport, stockCharts } from './report-service.ts';
import { checkLedger, readLedger } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];
const params = z.object({ id: Id });

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/ledger',
    {
      ...keepers,
      schema: { tags, summary: 'Lines of the ledger with their running balance', querystring: LedgerQuery, response: { 200: Ledger, ...problemResponses } },
    },
    (request) => read(request, (context) => readLedger(context, request.query)),
  );
  app.get(
    '/api/ledger/check',
    {
      ...keepers,
      schema: { tags, summary: 'Whether the ledger is as it was written', querystring: LedgerCheckQuery, response: { 200: LedgerCheck, ...problemResponses } },
    },
    (request) => read(request, (context) => checkLedger(context, request.server.config.anchorFile, request.query.upTo)),
  );
  app.get(
    '/api/stock-charts',
    { ...keepers, schema: { tags, summary: 'The shelf by day and use by class', response: { 200: StockCharts, ...problemResponses } } },
    (request) => read(request, stockCharts),
  );

  app.get(
    '/api/balance-reports',
    { ...keepers, schema: { tags, summary: 'Material balance reports', response: { 200: Reports, ...problemResponses } } },
    (request) => read(request, async (context) => ({ reports: await listReports(context) })),
  );
  app.post(
    '/api/balance-reports',
    {
      ...keepers,
      schema: { tags, summary: 'Close a period with a material balance report', body: MakeReport, response: { 200: Created, ...problemResponses } },
    },
    (request) => write(request, (context) => makeReport(context, request.body)),
  );
  app.get(
    '/api/balance-reports/:id',
    { ...keepers, schema: { tags, summary: 'One report with its signatures', params, response: { 200: ReportOut, ...problemResponses } } },
    (request) => read(request, (context) => readReport(context, request.params.id)),
  );
  app.post(
    '/api/balance-reports/:id/sign',
    { ...keepers, schema: { tags, summary: 'Sign a report; two people make it whole', params, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => signReport(context, request.params.id)),
  );

  app.get(
    '/api/lots.csv',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Every delivery, a row for each container, as it can be read in again',
        response: { 200: LotsFile, ...problemResponses },
      },
    },
    (request) => read(request, async (context) => ({ csv: await exportLots(context) })),
  );
  app.post(
    '/api/lots/import',
    {
      ...keepers,
      schema: { tags, summary: 'Receive deliveries from a CSV file, all or none', body: ImportLots, response: { 200: ImportedLots, ...problemResponses } },
    },
    (request) => write(request, (context) => importLots(context, request.body.csv)),
  );
};
export default routes;
