import { fail } from '@sveltejs/kit';
import { ImportedLots } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = (event) => {
  requireKeeper(event.locals);
  return { id: newId() };
};

/** A chosen file, else what was pasted. */
async function fileText(data: FormData): Promise<string> {
  const file = data.get('file');
  return file instanceof File && file.size > 0 ? await file.text() : text(data, 'csv');
}

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const csv = await fileText(data);
    if (csv.trim() === '') return fail(422, { id, csv, faults: ['Choose a file, or paste its text.'], title: 'Nothing was sent', done: null });
    const answer = await write(event, '/api/lots/import', { csv }, ImportedLots, { key: id });
    if (answer.ok) return { id: newId(), csv: '', faults: [], title: '', done: answer.value };
    const { problem, unsure } = answer;
    const faults = problem.errors?.length ? problem.errors.map(({ detail }) => detail) : [problem.detail];
    return fail(problem.status, { id: unsure ? id : newId(), csv, faults, title: problem.title, done: null });
  },
};
