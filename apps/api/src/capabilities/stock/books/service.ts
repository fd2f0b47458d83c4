import type { LedgerQuery, Substance } from '@ashwater/contracts';
import type { StaffContext } from '../../../request-context.ts';
import { anchorFaults } from '../anchors/service.ts';
import { classPlace, containerPlace, idsInPlaces, LINE_KINDS, placeInWords, productPlace } from '../ledger.ts';
import * as books from '../ledger-store.ts';
import { dayAfter, startOfDay } from '../../../days.ts';
import * as store from './store.ts';

const filterOf = (query: LedgerQuery, zone: string) => ({
  ...query,
  places: query.containerId ? [containerPlace(query.containerId)] : query.classId ? [classPlace(query.classId), productPlace(query.classId)] : null,
  from: query.fromDay ? startOfDay(query.fromDay, zone) : null,
  until: query.toDay ? startOfDay(dayAfter(query.toDay), zone) : null,
});

/** Only where no line is left out between two lines shown can a running balance be told. */
const hasGaps = ({ classId, accountId, kind }: LedgerQuery) => Boolean(classId ?? accountId ?? kind);

/** Lines of the ledger, newest first, with the places named as people call them and the running balance. */
export async function readLedger({ tx, studio }: StaffContext, query: LedgerQuery) {
  const rows = await store.lines(tx, studio.id, filterOf(query, studio.timeZone), query.limit + 1);
  const page = rows.slice(0, query.limit);
  const names = await books.placeNames(tx, studio.id, idsInPlaces(page.flatMap((row) => [row.fromPlace, row.toPlace])));
  const balances = page.length === 0 || hasGaps(query) ? [] : await runningBalances({ tx, studio } as StaffContext, query, page);
  return {
    lines: page.map((row, index) => ({
      ...row,
      at: row.at.toISOString(),
      fromPlace: placeInWords(row.fromPlace, names),
      toPlace: placeInWords(row.toPlace, names),
      balanceMg: balances[index] ?? null,
    })),
    older: rows.length > query.limit ? page.at(-1)!.seq : null,
    choices: { ...(await store.choices(tx, studio.id)), kinds: [...LINE_KINDS] },
  };
}

async function runningBalances({ tx, studio }: StaffContext, query: LedgerQuery, page: store.LedgerRow[]): Promise<number[]> {
  const newest = page[0]!.seq;
  if (query.containerId) {
    const place = containerPlace(query.containerId);
    let mg = await store.heldAfter(tx, studio.id, place, newest);
    return page.map((row) => {
      const after = mg;
      mg -= (row.toPlace === place ? row.massMg : 0) - (row.fromPlace === place ? row.massMg : 0);
      return after;
    });
  }
  const held = new Map((await store.shelfAfter(tx, studio.id, newest, query.lotId ?? null)).map(({ substance, mg }) => [substance, mg]));
  const onShelf = (place: string) => place.startsWith('container:');
  return page.map((row) => {
    const after = held.get(row.substance as Substance) ?? 0;
    held.set(row.substance, after - (onShelf(row.toPlace) ? row.massMg : 0) + (onShelf(row.fromPlace) ? row.massMg : 0));
    return after;
  });
}

/** Recomputes the whole chain. `headHash` is to be kept outside the database (a printed count sheet): it shows a rewritten chain. */
export async function checkLedger({ tx, studio }: StaffContext, anchorFile: string | undefined, upTo = Infinity) {
  const head = await books.ledgerHead(tx, studio.id);
  if (head && head.seq > upTo)
    return { intact: null, lines: head.seq, words: `${head.seq} lines; they are not checked each time this page is opened.`, headHash: head.hash };
  const lines = await books.lineCount(tx, studio.id);
  const faults = await books.ledgerFaults(tx);
  const found = faults.map(({ seq, fault }) => (seq === null ? fault : `line ${seq}: ${fault}`));
  found.push(...(await anchorFaults(tx, studio.id, anchorFile)));
  if (lines > 0 && !head) found.push('the record of the last line is missing');
  const words =
    found.length > 0
      ? `The ledger was changed behind the service: ${found.slice(0, 3).join('; ')}${found.length > 3 ? `; and ${found.length - 3} more` : ''}. Keep a copy of the database as it is and compare with the last backup.`
      : `All ${lines} lines are as they were written, and the balances are their sums.`;
  return { intact: found.length === 0, lines, words, headHash: head?.hash ?? '' };
}
