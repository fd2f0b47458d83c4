import { classTotals } from '#lib/components/class/totals.server.ts';
import { csv } from '#lib/csv.ts';
import type { RequestHandler } from './$types';

const MG_PER_G = 1000;
// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';

export const GET: RequestHandler = async (event) => {
  const { room, percent } = await classTotals(event, event.params.id);
  const head = ['What', 'Kind', 'Stations', 'Cards (g)', `With ${percent} % spare (g)`];
  const rows = room.totals.map((total) => [total.name, total.kind, total.stations, total.sumMg / MG_PER_G, total.totalMg / MG_PER_G]);
  return new Response(BYTE_ORDER_MARK + csv([head, ...rows]), {
    headers: {
      'content-type': 'text/csv; charset=utf-8; header=present',
      'content-disposition': `attachment; filename="class-totals-${room.id.slice(-6)}.csv"`,
    },
  });
};
