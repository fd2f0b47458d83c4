import { Notes } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { notes } = await read(event, '/api/notes', Notes);
  return { waiting: notes.filter(({ reviewed }) => !reviewed), reviewed: notes.filter(({ reviewed }) => reviewed) };
};
