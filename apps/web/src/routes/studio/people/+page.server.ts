import { redirect } from '@sveltejs/kit';
import { Created, People } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { people } = await read(event, '/api/people', People);
  const added = event.url.searchParams.get('added');
  return { id: newId(), people, owner: event.locals.staff?.role === 'owner', added: people.find(({ id }) => id === added)?.name ?? null };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, name: text(data, 'name'), email: text(data, 'email').trim(), role: text(data, 'role'), password: text(data, 'password') };
    const answer = await write(event, '/api/people', body, Created, { key: id });
    if (!answer.ok && answer.problem.code === 'already-exists') return refuseField(data, 'email', 'Somebody in this studio has this e-mail already.');
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/people?added=${answer.value.id}`);
  },
};
