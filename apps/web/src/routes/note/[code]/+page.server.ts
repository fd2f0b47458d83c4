import { JoinTarget, NoteFiled } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { tidyCode } from '#lib/join-code.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { toldIn } from '#lib/server/notes.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const code = tidyCode(event.params.code);
  const { studioName, emergencyPhone } = await read(event, `/api/join/${encodeURIComponent(code)}`, JoinTarget);
  return { id: newId(), code, studioName, emergencyPhone };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const body = { ...toldIn(data, formId(data)), code: tidyCode(event.params.code) };
    // No key and no cookie: nothing of this request may lead back to the writer. The id alone makes a second try harmless.
    const answer = await write(event, '/api/notes/anonymous', body, NoteFiled);
    if (!answer.ok) return refuse(answer, data);
    // Shown without a redirect, so that the return code stands in no address and no history.
    return { filed: answer.value };
  },
};
