import { NoteFiled, NotePlace } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { tidyCode } from '#lib/join-code.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { addNamelessPictureOf, toldIn } from '#lib/server/notes.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const code = tidyCode(event.params.code);
  const { studioName, emergencyPhone } = await read(event, `/api/note-place/${encodeURIComponent(code)}`, NotePlace);
  return { id: newId(), code, studioName, phone: emergencyPhone };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const [id, code] = [formId(data), tidyCode(event.params.code)];
    const body = { ...toldIn(data, id), code };
    // No key and no cookie: nothing of this request may lead back to the writer. The id alone makes a second try harmless.
    const answer = await write(event, '/api/notes/anonymous', body, NoteFiled);
    if (!answer.ok) return refuse(answer, data);
    // Shown without a redirect, so that the return code stands in no address and no history.
    return { filed: answer.value, pictureFault: await addNamelessPictureOf(event, data, id, code) };
  },
};
