import { Cabinet } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

const ORDER = { past: 0, soon: 1, 'in date': 2, none: 3 } as const;

export const load: PageServerLoad = async (event) => {
  const { lots } = await read(event, '/api/cabinet', Cabinet);
  const soonest = lots.toSorted(
    (a, b) =>
      ORDER[a.expiry.stand] - ORDER[b.expiry.stand] || (a.bestBefore ?? '9').localeCompare(b.bestBefore ?? '9') || b.receivedAt.localeCompare(a.receivedAt),
  );
  return { held: soonest.filter(({ balanceMg }) => balanceMg > 0), empty: soonest.filter(({ balanceMg }) => balanceMg === 0) };
};
