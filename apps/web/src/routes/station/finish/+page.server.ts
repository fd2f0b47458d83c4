import { redirect } from '@sveltejs/kit';
import { Empty } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId } from '#lib/server/forms.ts';
import { LEFT, stationRefusal } from '#lib/server/station.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = () => ({ id: newId() });

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, '/api/seat/sign-out', {}, Empty, { key: formId(data) });
    if (!answer.ok && answer.problem.status !== 401) return stationRefusal(answer, data);
    redirect(303, LEFT);
  },
};
