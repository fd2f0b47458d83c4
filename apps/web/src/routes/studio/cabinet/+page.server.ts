import { Cabinet, CheckOuts } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { needsAttention } from '#lib/studio/lot-attention.ts';
import { bySubstance } from '#lib/studio/substance.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const [{ lots, stand }, { checkouts }] = await Promise.all([read(event, '/api/cabinet', Cabinet), read(event, '/api/checkouts', CheckOuts)]);
  const { searchParams } = event.url;
  return {
    stand,
    attention: lots.filter((lot) => lot.balanceMg > 0).flatMap(needsAttention),
    groups: bySubstance(lots),
    open: checkouts.filter(({ returnedMg }) => returnedMg === null),
    received: lots.find(({ id }) => id === searchParams.get('received')) ?? null,
    handed: checkouts.find(({ id }) => id === searchParams.get('handed')) ?? null,
  };
};
