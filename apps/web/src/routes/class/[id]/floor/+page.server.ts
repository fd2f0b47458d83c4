import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Empty, FloorView, GearState } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const floor = await read(event, `/api/classes/${event.params.id}/floor`, FloorView);
  const seats = floor.stations.flatMap((station) => station.seats);
  return { floor, id: newId(), ids: Object.fromEntries(seats.map((seat) => [seat.id, newId()])), mayClear: mayPlan(event.locals.staff?.role) };
};

/** Back to the same station of the same page: alarms may have changed the order. */
async function backTo(event: RequestEvent, seatId: string): Promise<never> {
  const floor = await read(event, `/api/classes/${event.params.id}/floor`, FloorView);
  const station = floor.stations.find((each) => each.seats.some((seat) => seat.id === seatId));
  redirect(303, `/class/${event.params.id}/floor${station ? `#s-${station.id}` : ''}`);
}

async function act(event: RequestEvent, what: 'stop' | 'clear') {
  const data = await event.request.formData();
  const id = formId(data);
  const reason = text(data, 'reason').trim();
  if (what === 'clear' && reason === '') return refuseField(data, 'reason', 'Write what was found and done: it lets everybody go on.');
  const answer = await write(event, `/api/classes/${event.params.id}/${what}`, { id, reason }, Empty, { key: id });
  if (!answer.ok) return refuse(answer, data);
  redirect(303, `/class/${event.params.id}/floor`);
}

export const actions: Actions = {
  countersign: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const seatId = text(data, 'seatId');
    const answer = await write(event, `/api/seats/${seatId}/countersign`, { id }, GearState, { key: id });
    return answer.ok ? backTo(event, seatId) : refuse(answer, data);
  },
  lapse: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const seatId = text(data, 'seatId');
    const reason = text(data, 'quick') || text(data, 'reason').trim();
    if (reason === '') return refuseField(data, 'reason', 'Say why the sign-off ends.');
    const answer = await write(event, `/api/seats/${seatId}/lapse`, { id, reason }, GearState, { key: id });
    return answer.ok ? backTo(event, seatId) : refuse(answer, data);
  },
  stop: (event) => act(event, 'stop'),
  clear: (event) => act(event, 'clear'),
};
