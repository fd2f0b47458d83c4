import { redirect } from '@sveltejs/kit';
import { CheckOutcome } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { stationRefusal } from '#lib/server/station.ts';
import { nextPath, standingReading } from '#lib/station/view.ts';
import type { Actions, PageServerLoad } from './$types';

/** A page of its own, so that neither the target nor the first reading is on it. */
export const load: PageServerLoad = async ({ parent }) => {
  const { view } = await parent();
  const reading = view.currentStepNo === null ? null : standingReading(view, view.currentStepNo);
  if (reading?.second !== 'needed') redirect(303, nextPath(view));
  return { reading, id: newId() };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const byName = text(data, 'byName').trim();
    const body = { id, entered: text(data, 'entered'), ...(byName ? { byName } : {}) };
    const answer = await write(event, `/api/readings/${text(data, 'readingId')}/check`, body, CheckOutcome, { key: id });
    if (answer.ok || answer.problem.code === 'already-exists') redirect(303, '/station/step');
    return stationRefusal(answer, data);
  },
};
