import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ChangeStockSettings, StockSettings } from '@ashwater/contracts';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { changeStockSettings, readStockSettings } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['stock'];

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/stock-settings',
    { ...keepers, schema: { tags, summary: 'The studio’s limits for its stock', response: { 200: StockSettings, ...problemResponses } } },
    (request) => read(request, readStockSettings),
  );
  app.put(
    '/api/stock-settings',
    { ...keepers, schema: { tags, summary: 'Set the limits', body: ChangeStockSettings, response: { 200: StockSettings, ...problemResponses } } },
    (request) => write(request, (context) => changeStockSettings(context, request.body)),
  );
};
export default routes;
