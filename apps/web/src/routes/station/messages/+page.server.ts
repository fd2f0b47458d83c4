import { redirect } from '@sveltejs/kit';
import { text } from '#lib/server/forms.ts';
import { SEEN_COOKIE } from '#lib/station/seen.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = () => redirect(303, '/station');

export const actions: Actions = {
  /** Puts a message away on this device, with all that came before it. */
  default: async (event) => {
    const data = await event.request.formData();
    const seq = Number(text(data, 'seq'));
    if (Number.isSafeInteger(seq)) event.cookies.set(SEEN_COOKIE, String(seq), { path: '/station', maxAge: 24 * 3600 });
    const back = text(data, 'back');
    redirect(303, /^\/station(\/[\w/]*)?$/.test(back) ? back : '/station');
  },
};
