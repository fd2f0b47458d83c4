import { redirect } from '@sveltejs/kit';
import { JoinTarget, Me } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { tidyCode } from '#lib/join-code.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const code = tidyCode(event.params.code);
  const target = await read(event, `/api/join/${encodeURIComponent(code)}`, JoinTarget);
  return { id: newId(), code, target, seat: event.locals.seat && { name: event.locals.seat.name } };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/join', { id, code: text(data, 'code'), name: text(data, 'name') }, Me, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/station');
  },
};
