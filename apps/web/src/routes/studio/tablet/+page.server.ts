import { redirect } from '@sveltejs/kit';
import { BenchOut, Bound, Released, Stations } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const [{ stations }, bench] = await Promise.all([read(event, '/api/stations', Stations), read(event, '/api/bench', BenchOut)]);
  return { stations, bench, id: newId(), releaseId: newId() };
};

export const actions: Actions = {
  bind: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `/api/stations/${text(data, 'stationId')}/bind`, { id }, Bound, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/tablet');
  },
  release: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/stations/${text(data, 'stationId')}/release`, {}, Released, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/tablet');
  },
};
