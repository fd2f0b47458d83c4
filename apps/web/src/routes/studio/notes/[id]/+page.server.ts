import { redirect } from '@sveltejs/kit';
import { Created, NoteOut } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const note = await read(event, `/api/notes/${encodeURIComponent(event.params.id)}`, NoteOut);
  return { id: newId(), note, added: event.url.searchParams.get('added') };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, outcome: text(data, 'outcome'), learned: text(data, 'learned'), change: text(data, 'change') };
    const answer = await write(event, `/api/notes/${encodeURIComponent(event.params.id)}/reviews`, body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/notes/${event.params.id}?added=${answer.value.id}#reviews`);
  },
};
