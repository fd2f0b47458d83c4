import { LotsFile } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { RequestHandler } from './$types';

// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';

export const GET: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const { csv } = await read(event, '/api/lots.csv', LotsFile);
  return new Response(BYTE_ORDER_MARK + csv, {
    headers: { 'content-type': 'text/csv; charset=utf-8; header=present', 'content-disposition': 'attachment; filename="deliveries.csv"' },
  });
};
