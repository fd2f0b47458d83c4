import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { CheckOutcome, Created, Empty, FloorView, GearState } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const floor = await read(event, `/api/classes/${event.params.id}/floor`, FloorView);
  const seats = floor.stations.flatMap((station) => station.seats);
  // A list that staff hold out has a form an item.
  const items = floor.stations.flatMap((station) =>
    station.seats.filter((seat) => seat.noDevice).flatMap((seat) => station.gear.map((item) => `${seat.id} ${item.key}`)),
  );
  return {
    floor,
    id: newId(),
    messageId: newId(),
    ids: Object.fromEntries([...seats.map(({ id }) => id), ...floor.stations.map(({ id }) => id), ...items].map((key) => [key, newId()])),
    mayClear: mayPlan(event.locals.staff?.role),
  };
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

/** One act about one person, and back to where they are. */
async function aboutSeat(event: RequestEvent, ask: (data: FormData, id: string) => { act: string; body: object; schema: typeof Empty | typeof GearState }) {
  const data = await event.request.formData();
  const id = formId(data);
  const seatId = text(data, 'seatId');
  const { act, body, schema } = ask(data, id);
  const answer = await write<object>(event, `/api/seats/${seatId}/${act}`, body, schema, { key: id });
  return answer.ok ? backTo(event, seatId) : refuse(answer, data);
}

export const actions: Actions = {
  countersign: (event) => aboutSeat(event, (_, id) => ({ act: 'countersign', body: { id }, schema: GearState })),
  confirm: (event) => aboutSeat(event, (data, id) => ({ act: 'confirm', body: { id, itemKey: text(data, 'itemKey') }, schema: GearState })),
  presence: (event) =>
    aboutSeat(event, (data, id) =>
      text(data, 'to') === 'out'
        ? { act: 'sign-out', body: {}, schema: Empty }
        : { act: 'move', body: { id, classStationId: text(data, 'to') }, schema: GearState },
    ),
  add: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, name: text(data, 'name'), classStationId: text(data, 'classStationId'), kind: text(data, 'kind') || 'visitor' };
    const answer = await write(event, `/api/classes/${event.params.id}/people`, body, GearState, { key: id });
    return answer.ok ? backTo(event, id) : refuse(answer, data);
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
  check: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `/api/readings/${text(data, 'readingId')}/staff-check`, { id, entered: text(data, 'entered') }, CheckOutcome, {
      key: id,
    });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}/floor`);
  },
  message: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `/api/classes/${event.params.id}/messages`, { id, text: text(data, 'text') }, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}/floor#message`);
  },
  stop: (event) => act(event, 'stop'),
  clear: (event) => act(event, 'clear'),
};
