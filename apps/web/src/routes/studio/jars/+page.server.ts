import { redirect } from '@sveltejs/kit';
import type { PageServerLoad } from './$types';

/** The short address on jar labels: it leads to the jar with this number. */
export const load: PageServerLoad = ({ url }) => redirect(307, `/studio/cabinet/jars${url.search}`);
