import { newId } from '#lib/id.ts';
import { tidyCode } from '#lib/join-code.ts';
import { NoteStatus } from '@ashwater/contracts';
import { tryRead } from '#lib/server/api.ts';
import { refuse, refuseField, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = ({ url }) => ({ id: newId(), code: tidyCode(url.searchParams.get('code') ?? '') });

export const actions: Actions = {
  // Sent by POST so that the return code stands in no address.
  default: async (event) => {
    const data = await event.request.formData();
    const returnCode = tidyCode(text(data, 'returnCode'));
    const code = tidyCode(text(data, 'code'));
    if (returnCode === '') return refuseField(data, 'returnCode', 'Type the return code you wrote down.');
    if (code === '') return refuseField(data, 'code', 'Type a code of the class or a station, from a weigh card.');
    const answer = await tryRead(event, `/api/note-status/${returnCode}?code=${code}`, NoteStatus);
    if (answer.ok) return { found: answer.value };
    if (answer.problem.status === 404) return refuseField(data, 'returnCode', 'No note of this studio has this return code. Compare both codes, sign by sign.');
    return refuse(answer, data);
  },
};
