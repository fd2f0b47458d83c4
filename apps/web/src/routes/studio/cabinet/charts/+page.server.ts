import { StockCharts } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  return { charts: await read(event, '/api/stock-charts', StockCharts), readAt: new Date().toISOString() };
};
