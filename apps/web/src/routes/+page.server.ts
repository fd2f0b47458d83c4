import { redirect } from '@sveltejs/kit';
import { SetUpState } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

/** The start page sends everybody on: staff to the studio, a seat to its station, a new service to set-up. */
export const load: PageServerLoad = async (event) => {
  if (event.locals.staff) redirect(303, '/studio');
  if (event.locals.seat) redirect(303, '/station');
  const { needed } = await read(event, '/api/setup', SetUpState);
  if (needed) redirect(303, '/setup');
};
