import { Ledger } from '@ashwater/contracts';
import { csv } from '#lib/csv.ts';
import { read } from '#lib/server/api.ts';
import { csvResponse } from '#lib/server/csv-response.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { filtersOf, ledgerQuery } from '#lib/server/ledger-query.ts';
import { kindInWords, sortableTime } from '#lib/studio/ledger-words.ts';
import { NAME_OF } from '#lib/studio/substance.ts';
import type { RequestHandler } from './$types';

const MG_PER_G = 1000;
/** More than a spreadsheet opens with ease; a filter by day gives the rest. */
const MOST_LINES = 100_000;

export const GET: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const lines = [];
  let before = '';
  do {
    const page = await read(event, `/api/ledger?${ledgerQuery(filtersOf(event.url), { limit: '1000', before })}`, Ledger);
    lines.push(...page.lines);
    before = page.older === null ? '' : String(page.older);
  } while (before !== '' && lines.length < MOST_LINES);
  const head = ['Line', `When (${zone})`, 'What', 'Substance', 'Lot', 'From', 'To', 'Mass (g)', 'Balance after (g)', 'By', 'Scale', 'Reason'];
  const rows = lines.map((line) => [
    line.seq,
    sortableTime(line.at, zone),
    kindInWords(line.kind),
    NAME_OF[line.substance],
    line.lotNumber,
    line.fromPlace,
    line.toPlace,
    line.massMg / MG_PER_G,
    line.balanceMg === null ? '' : line.balanceMg / MG_PER_G,
    line.byName,
    line.scaleName ?? '',
    line.reason,
  ]);
  const today = sortableTime(new Date().toISOString(), zone).slice(0, 10);
  return csvResponse(csv([head, ...rows]), `ledger-${today}.csv`);
};
