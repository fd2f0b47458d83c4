import { NoteFiled } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { toldIn } from '#lib/server/notes.ts';
import { stationView } from '#lib/server/station.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = () => ({ id: newId() });

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const { classId } = event.locals.seat ?? (await stationView(event));
    const answer = await write(event, '/api/notes', { ...toldIn(data, id), classId }, NoteFiled, { key: id });
    if (!answer.ok) return refuse(answer, data);
    return { filed: answer.value };
  },
};
