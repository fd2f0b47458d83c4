import { error } from '@sveltejs/kit';
import { Counts } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { counts } = await read(event, '/api/counts', Counts);
  const count = counts.find(({ id }) => id === event.params.id);
  return { count: count ?? error(404, 'Not found', { detail: 'No count with this address was found among the newest.' }) };
};
