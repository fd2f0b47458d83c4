import { addToMyNote, loadMyNotes } from '#lib/server/my-notes.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = (event) => loadMyNotes(event);
export const actions: Actions = { default: (event) => addToMyNote(event) };
