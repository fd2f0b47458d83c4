import { redirect } from '@sveltejs/kit';
import { nextPath } from '#lib/station/view.ts';
import type { PageServerLoad } from './$types';

/** No number: the step this station is at. */
export const load: PageServerLoad = async ({ parent }) => {
  redirect(303, nextPath((await parent()).view));
};
