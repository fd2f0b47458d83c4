import { Ledger, LedgerCheck } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { filtersOf, ledgerQuery } from '#lib/server/ledger-query.ts';
import type { PageServerLoad } from './$types';

/** So many lines are checked in a moment, whenever the page is opened; more when somebody asks for it. */
const CHECKED_AT_ONCE = 20_000;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const filters = filtersOf(event.url);
  const before = event.url.searchParams.get('before') ?? '';
  const [ledger, check] = await Promise.all([
    read(event, `/api/ledger?${ledgerQuery(filters, { before })}`, Ledger),
    read(event, event.url.searchParams.has('check') ? '/api/ledger/check' : `/api/ledger/check?upTo=${CHECKED_AT_ONCE}`, LedgerCheck),
  ]);
  const olderQuery = ledger.older === null ? null : ledgerQuery(filters, { before: String(ledger.older) });
  return { ...ledger, filters, query: ledgerQuery(filters), olderQuery, paged: before !== '', check, readAt: new Date().toISOString() };
};
