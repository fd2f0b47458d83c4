import { redirect } from '@sveltejs/kit';
import { Created, Empty, Fats } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { FAT_FIELDS } from '#lib/studio/fat-form.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { fats } = await read(event, '/api/fats', Fats);
  return {
    id: newId(),
    fats: fats.map((fat) => ({ ...fat, formId: newId() })),
    mayAdd: mayPlan(event.locals.staff?.role),
    added: event.url.searchParams.get('added'),
    retired: event.url.searchParams.get('retired'),
  };
};

export const actions: Actions = {
  add: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = Object.fromEntries(FAT_FIELDS.map((name) => [name, text(data, name)]));
    const answer = await write(event, '/api/fats', { ...body, id }, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/fats?added=${id}`);
  },
  retire: async (event) => {
    const data = await event.request.formData();
    const fatId = text(data, 'fatId');
    const answer = await write(event, `/api/fats/${fatId}/retire`, {}, Empty, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/fats?retired=${fatId}`);
  },
};
