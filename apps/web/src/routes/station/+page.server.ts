import { redirect } from '@sveltejs/kit';
import { GearState } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { stationRefusal } from '#lib/server/station.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ parent }) => {
  const { view } = await parent();
  return { breakId: newId(), itemIds: Object.fromEntries(view.card.content.gear.map((item) => [item.key, newId()])) };
};

export const actions: Actions = {
  confirm: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/gear/confirm', { id, itemKey: text(data, 'itemKey') }, GearState, { key: id });
    if (!answer.ok) return stationRefusal(answer, data);
    redirect(303, '/station#next-item');
  },
  lapse: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/gear/lapse', { id, reason: text(data, 'reason') }, GearState, { key: id });
    if (!answer.ok) return stationRefusal(answer, data);
    redirect(303, '/station');
  },
};
