import { redirect } from '@sveltejs/kit';
import { Cards, ClassOut } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  // Published already, or seen on "back": nothing to check any more.
  if (room.status !== 'draft') redirect(303, `/class/${room.id}`);
  return { id: newId(), room };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/classes/${event.params.id}/publish`, {}, Cards, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}`);
  },
};
