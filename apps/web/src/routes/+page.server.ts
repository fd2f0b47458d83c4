import { redirect } from '@sveltejs/kit';
import { SetUpState } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { codeOfBench } from '#lib/server/bench.ts';
import type { PageServerLoad } from './$types';

/** The start page sends everybody on: staff to the studio, a seat to its station, a new service to set-up. */
export const load: PageServerLoad = async (event) => {
  if (event.locals.staff) redirect(303, '/studio');
  if (event.locals.seat) redirect(303, '/station');
  const code = await codeOfBench(event);
  if (code) redirect(303, `/join/${code}`);
  const { needed } = await read(event, '/api/setup', SetUpState);
  if (needed) redirect(303, '/setup');
};
