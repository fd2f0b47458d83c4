import { error, redirect } from '@sveltejs/kit';
import { JarOut, ReadingOut, StationView } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { stationRefusal, stationView } from '#lib/server/station.ts';
import { doneAs, nextPath, standingReading, stepOf } from '#lib/station/view.ts';
import type { Actions, PageServerLoad } from './$types';

const StepMoved = StationView.pick({ currentStepNo: true });

export const load: PageServerLoad = async ({ params, parent }) => {
  const { view } = await parent();
  const step = stepOf(view, Number(params.no));
  if (!step) error(404, 'This card has no such step', { detail: `The card has ${view.card.content.steps.length} steps.` });
  return { step, reading: standingReading(view, step.no), done: doneAs(view, step.no) ?? null, id: newId(), doneId: newId() };
};

export const actions: Actions = {
  reading: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, stepNo: Number(event.params.no), entered: text(data, 'entered'), supersedesId: text(data, 'supersedesId') || null };
    const answer = await write(event, `/api/cards/${text(data, 'cardId')}/readings`, body, ReadingOut, { key: id });
    if (!answer.ok) return stationRefusal(answer, data);
    redirect(303, `/station/step/${event.params.no}`);
  },
  done: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/cards/${text(data, 'cardId')}/steps/${event.params.no}/done`, {}, StepMoved, { key: formId(data) });
    if (!answer.ok) return stationRefusal(answer, data);
    redirect(303, nextPath(answer.value));
  },
  jar: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/jars', { id, cardId: text(data, 'cardId'), mass: text(data, 'mass') }, JarOut, { key: id });
    if (answer.ok) redirect(303, '/station/label');
    // The partner labelled it a moment ago: show that label.
    if (answer.problem.code === 'step-out-of-order' && (await stationView(event)).jar) redirect(303, '/station/label');
    return stationRefusal(answer, data);
  },
};
