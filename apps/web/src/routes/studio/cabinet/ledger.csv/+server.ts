import { Ledger } from '@ashwater/contracts';
import { csv } from '#lib/csv.ts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { kindInWords, sortableTime } from '#lib/studio/ledger-words.ts';
import { NAME_OF } from '#lib/studio/substance.ts';
import type { RequestHandler } from './$types';

const MG_PER_G = 1000;
// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';

export const GET: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const { lines } = await read(event, '/api/ledger', Ledger);
  const head = ['Line', `When (${zone})`, 'What', 'Substance', 'Lot', 'From', 'To', 'Mass (g)', 'By', 'Reason'];
  const rows = lines.map((line) => [
    line.seq,
    sortableTime(line.at, zone),
    kindInWords(line.kind),
    NAME_OF[line.substance],
    line.lotNumber,
    line.fromPlace,
    line.toPlace,
    line.massMg / MG_PER_G,
    line.byName,
    line.reason,
  ]);
  const today = sortableTime(new Date().toISOString(), zone).slice(0, 10);
  return new Response(BYTE_ORDER_MARK + csv([head, ...rows]), {
    headers: { 'content-type': 'text/csv; charset=utf-8; header=present', 'content-disposition': `attachment; filename="ledger-${today}.csv"` },
  });
};
