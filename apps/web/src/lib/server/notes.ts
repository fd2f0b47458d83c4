import { Created, Empty, Harm, MOST_PICTURE_BYTES } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { write } from './api.ts';
import type { Caller } from './api.ts';
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

/** The base64 of the picture of a form; null where none was chosen, words where it cannot be sent. */
async function pictureIn(data: FormData): Promise<{ base64: string } | { fault: string } | null> {
  const chosen = data.get('picture');
  if (!(chosen instanceof File) || chosen.size === 0) return null;
  if (chosen.size > MOST_PICTURE_BYTES) return { fault: 'The picture is larger than 12 MB. Send a smaller one, or a screenshot of it.' };
  return { base64: Buffer.from(await chosen.arrayBuffer()).toString('base64') };
}

/** Adds the picture of a form to a note that is filed already: a picture that cannot be read loses no word. @returns what was wrong with it, or null */
export async function addPictureOf(event: Caller, data: FormData, noteId: string): Promise<string | null> {
  const picture = await pictureIn(data);
  if (picture === null) return null;
  if ('fault' in picture) return picture.fault;
  const id = newId();
  const answer = await write(event, `/api/notes/${noteId}/pictures`, { id, ...picture }, Created, { key: id });
  return answer.ok ? null : (answer.problem.errors?.[0]?.detail ?? answer.problem.detail);
}

/** The same for a note without a name: by the id that this form gave it, with no key and no cookie. */
export async function addNamelessPictureOf(event: Caller, data: FormData, noteId: string, code: string): Promise<string | null> {
  const picture = await pictureIn(data);
  if (picture === null) return null;
  if ('fault' in picture) return picture.fault;
  const answer = await write(event, '/api/notes/anonymous/pictures', { noteId, code, ...picture }, Empty);
  return answer.ok ? null : (answer.problem.errors?.[0]?.detail ?? answer.problem.detail);
}
