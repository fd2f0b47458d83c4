import { Ledger, LedgerCheck } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const [{ lines }, check] = await Promise.all([read(event, '/api/ledger', Ledger), read(event, '/api/ledger/check', LedgerCheck)]);
  return { lines, check, readAt: new Date().toISOString() };
};
