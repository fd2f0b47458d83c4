import { LotsFile } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { csvResponse } from '#lib/server/csv-response.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { RequestHandler } from './$types';

export const GET: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const { csv } = await read(event, '/api/lots.csv', LotsFile);
  return csvResponse(csv, 'deliveries.csv');
};
