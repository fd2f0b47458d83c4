import { newId } from '#lib/id.ts';
import { tidyCode } from '#lib/join-code.ts';
import { NoteStatus } from '@ashwater/contracts';
import { tryRead, write } from '#lib/server/api.ts';
import { refuse, refuseField, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = ({ url }) => ({ id: newId(), code: tidyCode(url.searchParams.get('code') ?? '') });

/** Both codes as typed, or the refusal of the one that is missing. */
function codesIn(data: FormData) {
  const returnCode = tidyCode(text(data, 'returnCode'));
  const code = tidyCode(text(data, 'code'));
  if (returnCode === '') return { refused: refuseField(data, 'returnCode', 'Type the return code you wrote down.') };
  if (code === '') return { refused: refuseField(data, 'code', 'Type a code of the class, of a station or of the wall.') };
  return { returnCode, code };
}

// Sent by POST so that the return code stands in no address.
export const actions: Actions = {
  look: async (event) => {
    const data = await event.request.formData();
    const codes = codesIn(data);
    if ('refused' in codes) return codes.refused;
    const answer = await tryRead(event, `/api/note-status/${codes.returnCode}?code=${codes.code}`, NoteStatus);
    if (answer.ok) return { found: answer.value, ...codes };
    if (answer.problem.status === 404) return refuseField(data, 'returnCode', 'No note of this studio has this return code. Compare both codes, sign by sign.');
    return refuse(answer, data);
  },
  answer: async (event) => {
    const data = await event.request.formData();
    const codes = codesIn(data);
    if ('refused' in codes) return codes.refused;
    // No key and no cookie: as when the note was written.
    const body = { code: codes.code, text: text(data, 'text') };
    const answer = await write(event, `/api/note-status/${codes.returnCode}/answers`, body, NoteStatus);
    return answer.ok ? { found: answer.value, ...codes, answered: true } : refuse(answer, data);
  },
};
