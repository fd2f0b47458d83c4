import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { AmendOut, ClassOut } from '@ashwater/contracts';
import { readAmendForm } from '#lib/components/class/amend-form.ts';
import { benchChoice, fieldOfStation } from '#lib/components/class/class-form.ts';
import { classChoices } from '#lib/components/class/class-choices.server.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, typedValues } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  if (room.status !== 'published') redirect(303, `/class/${room.id}`);
  const { stations: _all, ...choices } = await classChoices(event, zone);
  const asked = event.url.searchParams.get('station');
  const benches = room.stations.map((station) => ({
    ...benchChoice(station, { id: station.id, stationId: station.stationId }, station.id === asked),
    cardId: station.cardId ?? '',
  }));
  return { id: newId(), room, ...choices, benches };
};

/** Asks the API, with faults of a station put at its row of the form. */
async function send(event: RequestEvent, data: FormData, preview: boolean) {
  const id = formId(data);
  const { body, benches } = readAmendForm(id, typedValues(data));
  // A preview is no act: it must not use up the key of the act it is for.
  const answer = await write(event, `/api/classes/${event.params['id']}/amend`, { ...body, preview }, AmendOut, { key: preview ? newId() : id });
  if (answer.ok) return { ok: true as const, value: answer.value };
  const errors = answer.problem.errors?.map((fault) => ({ ...fault, pointer: `/${fieldOfStation(fault.pointer, benches)}` }));
  return { ok: false as const, failure: refuse({ ...answer, problem: { ...answer.problem, ...(errors ? { errors } : {}) } }, data) };
}

export const actions: Actions = {
  preview: async (event) => {
    const data = await event.request.formData();
    const answer = await send(event, data, true);
    return answer.ok ? { preview: answer.value, typed: typedValues(data) } : answer.failure;
  },
  amend: async (event) => {
    const data = await event.request.formData();
    const answer = await send(event, data, false);
    if (!answer.ok) return answer.failure;
    redirect(303, `/class/${event.params.id}#cards`);
  },
};
