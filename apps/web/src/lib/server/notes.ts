import { Created, Empty, Harm, MOST_PICTURE_BYTES } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { write } from './api.ts';
import type { Caller, Written } from './api.ts';
import { text } from './forms.ts';

/** What a reporter told, as both kinds of note take it. */
export function toldIn(data: FormData, id: string) {
  return {
    id,
    kind: text(data, 'kind') || 'near miss',
    harms: Harm.options.filter((harm) => data.get(`harm/${harm}`) !== null),
    whenWords: text(data, 'whenWords'),
    place: text(data, 'place'),
    stepTitle: text(data, 'stepTitle'),
    what: text(data, 'what'),
    how: text(data, 'how'),
    whatStoppedIt: text(data, 'whatStoppedIt'),
    doneAtOnce: text(data, 'doneAtOnce'),
  };
}

/**
 * Sends the picture of a form after its note: a picture that cannot be read loses no word.
 * @returns what was wrong with it, or null; null too where none was chosen
 */
async function sendPicture(data: FormData, send: (base64: string) => Promise<Written<unknown>>): Promise<string | null> {
  const chosen = data.get('picture');
  if (!(chosen instanceof File) || chosen.size === 0) return null;
  if (chosen.size > MOST_PICTURE_BYTES) return 'The picture is larger than 12 MB. Send a smaller one, or a screenshot of it.';
  const answer = await send(Buffer.from(await chosen.arrayBuffer()).toString('base64'));
  return answer.ok ? null : (answer.problem.errors?.[0]?.detail ?? answer.problem.detail);
}

/** Adds the picture of a form to a note that is filed already. */
export function addPictureOf(event: Caller, data: FormData, noteId: string): Promise<string | null> {
  const id = newId();
  return sendPicture(data, (base64) => write(event, `/api/notes/${noteId}/pictures`, { id, base64 }, Created, { key: id }));
}

/** The same for a note without a name: by the id that this form gave it, with no key and no cookie. */
export const addNamelessPictureOf = (event: Caller, data: FormData, noteId: string, code: string): Promise<string | null> =>
  sendPicture(data, (base64) => write(event, '/api/notes/anonymous/pictures', { noteId, code, base64 }, Empty));
