import { error, redirect } from '@sveltejs/kit';
import { JarOut, ProposalOut, ReadingOut, StationView } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { tryRead, write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { stationRefusal, stationView } from '#lib/server/station.ts';
import { changesAt, doneAs, mayAsk, nextPath, standingReading, stepOf } from '#lib/station/view.ts';
import type { Actions, PageServerLoad } from './$types';

const StepMoved = StationView.pick({ currentStepNo: true });

/** In the address while the number is entered; the second where a form without script was refused. */
const WEIGHING = ['weigh', '/reading'];

export const load: PageServerLoad = async (event) => {
  const { view } = await event.parent();
  const no = Number(event.params.no);
  const step = stepOf(view, no);
  if (!step) {
    // A change of the card took it out.
    if (view.card.changes.length > 0) redirect(303, nextPath(view));
    error(404, 'This card has no such step', { detail: `The card has ${view.card.content.steps.length} steps.` });
  }
  const reading = standingReading(view, step.no);
  // Until a second person has read the scale nobody here sees target or reading; the weigher may go back.
  if (view.currentStepNo === no && reading?.second === 'needed' && !event.url.searchParams.has('again') && !event.url.searchParams.has('/reading'))
    redirect(303, '/station/second');
  const mayBeStuck = view.currentStepNo === no && mayAsk(view, step, reading);
  const asked = mayBeStuck && event.url.searchParams.has('stuck');
  const said = asked ? await tryRead(event, `/api/cards/${view.card.id}/proposal?stepNo=${no}&mixed=true`, ProposalOut) : null;
  return {
    step,
    reading,
    done: doneAs(view, step.no) ?? null,
    changes: changesAt(view, step),
    stuck: mayBeStuck ? { asked, proposal: said?.ok ? said.value : null, refusal: said && !said.ok ? said.problem.detail : null } : null,
    // Instruction and caution of a caustic weighing come on a page of their own; then the amount and the keys fit a phone.
    readFirst:
      view.currentStepNo === no && step.kind === 'weigh' && step.caustic && reading === null && !WEIGHING.some((name) => event.url.searchParams.has(name)),
    id: newId(),
    doneId: newId(),
  };
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
