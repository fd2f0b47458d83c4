import { ClassOut, LABEL_SHEETS } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

const KEEPERS = ['owner', 'manager'];

export const load: PageServerLoad = async (event) => {
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  const asked = event.url.searchParams.get('paper');
  const role = event.locals.staff?.role ?? '';
  return {
    room,
    paper: asked === 'letter' ? ('letter' as const) : ('a4' as const),
    labelSheets: Object.entries(LABEL_SHEETS).map(([key, sheet]) => ({ key, ...sheet })),
    mayCount: KEEPERS.includes(role),
  };
};
