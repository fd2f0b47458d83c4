import { redirect } from '@sveltejs/kit';
import { NoteSettings } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { qrCode } from '#lib/server/qr.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { wallCode } = await read(event, '/api/note-settings', NoteSettings);
  const address = `${event.url.origin}/note/${wallCode}`;
  return { id: newId(), wallCode, address, qr: wallCode === '' ? null : qrCode(address) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, '/api/note-settings/wall-code', {}, NoteSettings, { key: formId(data) });
    return answer.ok ? redirect(303, '/studio/notes/wall') : refuse(answer, data);
  },
};
