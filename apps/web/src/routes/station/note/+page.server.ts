import { NoteFiled } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { addPictureOf, toldIn } from '#lib/server/notes.ts';
import { stationView } from '#lib/server/station.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = () => ({ id: newId() });

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const { classId } = event.locals.seat ?? (await stationView(event));
    const answer = await write(event, '/api/notes', { ...toldIn(data, id), classId, signing: text(data, 'signing') || 'named' }, NoteFiled, { key: id });
    if (!answer.ok) return refuse(answer, data);
    return { filed: answer.value, pictureFault: await addPictureOf(event, data, answer.value.id) };
  },
};
