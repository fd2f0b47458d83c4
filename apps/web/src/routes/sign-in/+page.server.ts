import { redirect } from '@sveltejs/kit';
import { Me } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { safeNext } from '#lib/server/next.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = ({ locals, url }) => {
  if (locals.staff) redirect(303, safeNext(url.searchParams.get('next')));
  return { id: newId(), next: safeNext(url.searchParams.get('next')) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const studio = text(data, 'studio').trim();
    const body = { email: text(data, 'email').trim(), password: text(data, 'password'), ...(studio ? { studio } : {}) };
    const answer = await write(event, '/api/sign-in', body, Me, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, safeNext(text(data, 'next')));
  },
};
