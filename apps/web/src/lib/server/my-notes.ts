import { Created, MyNotes } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { read, write } from './api.ts';
import type { Caller } from './api.ts';
import { formId, refuse, text } from './forms.ts';

/** The notes of whoever asks, for the page that shows what became of them. */
export async function loadMyNotes(event: Caller) {
  return { id: newId(), ...(await read(event, '/api/my-notes', MyNotes)) };
}

/** Adds to one of them. */
export async function addToMyNote(event: Caller & { request: Request }) {
  const data = await event.request.formData();
  const id = formId(data);
  const answer = await write(event, `/api/notes/${encodeURIComponent(text(data, 'noteId'))}/amendments`, { id, text: text(data, 'text') }, Created, {
    key: id,
  });
  return answer.ok ? { added: text(data, 'noteId') } : refuse(answer, data);
}
