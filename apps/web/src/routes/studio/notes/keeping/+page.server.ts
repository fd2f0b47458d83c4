import { redirect } from '@sveltejs/kit';
import { Blanked, NoteSettings } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const today = new Date().toISOString().slice(0, 10);
  return { id: newId(), settings: await read(event, '/api/note-settings', NoteSettings), from: `${today.slice(0, 4)}-01-01`, to: today };
};

export const actions: Actions = {
  rule: async (event) => {
    const data = await event.request.formData();
    const body = { noteKeepDays: text(data, 'noteKeepDays'), nameKeepDays: text(data, 'nameKeepDays') };
    const answer = await write(event, '/api/note-settings', body, NoteSettings, { method: 'PUT', key: formId(data) });
    return answer.ok ? redirect(303, '/studio/notes/keeping') : refuse(answer, data);
  },
  blank: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, '/api/note-settings/blank', {}, Blanked, { key: formId(data) });
    return answer.ok ? { blanked: answer.value } : refuse(answer, data);
  },
};
