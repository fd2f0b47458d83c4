import { Ledger, LedgerCheck } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { filtersOf, ledgerQuery } from '#lib/server/ledger-query.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const filters = filtersOf(event.url);
  const before = event.url.searchParams.get('before') ?? '';
  const [ledger, check] = await Promise.all([
    read(event, `/api/ledger?${ledgerQuery(filters, { before })}`, Ledger),
    read(event, '/api/ledger/check', LedgerCheck),
  ]);
  const olderQuery = ledger.older === null ? null : ledgerQuery(filters, { before: String(ledger.older) });
  return { ...ledger, filters, query: ledgerQuery(filters), olderQuery, paged: before !== '', check, readAt: new Date().toISOString() };
};
