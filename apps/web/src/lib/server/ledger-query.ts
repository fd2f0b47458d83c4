/** The filters of the ledger page, as they stand in its address. */
export const LEDGER_FILTERS = ['substance', 'lotId', 'containerId', 'classId', 'accountId', 'kind', 'fromDay', 'toDay'] as const;
export type LedgerFilters = Record<(typeof LEDGER_FILTERS)[number], string>;

export function filtersOf(url: URL): LedgerFilters {
  return Object.fromEntries(LEDGER_FILTERS.map((name) => [name, url.searchParams.get(name) ?? ''])) as LedgerFilters;
}

/** The same as a query for the API: blank filters are left out. */
export function ledgerQuery(filters: LedgerFilters, more: Record<string, string> = {}): string {
  return new URLSearchParams(Object.entries({ ...filters, ...more }).filter(([, value]) => value !== '')).toString();
}
