import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Empty, GearState } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { stationRefusal } from '#lib/server/station.ts';
import type { Actions, PageServerLoad } from './$types';

/** One id a visitor and one an item of each visitor's list. */
export const load: PageServerLoad = async ({ parent }) => {
  const { view } = await parent();
  const keys = (view.visitors ?? []).flatMap(({ id }) => [id, ...view.card.content.gear.map((item) => `${id} ${item.key}`)]);
  return { id: newId(), itemIds: Object.fromEntries(keys.map((key) => [key, newId()])) };
};

type Told = { path: `/api/${string}`; body: object; schema: typeof Empty | typeof GearState };
async function tell(event: RequestEvent, ask: (data: FormData, id: string) => Told, hash = '') {
  const data = await event.request.formData();
  const id = formId(data);
  const { path, body, schema } = ask(data, id);
  const answer = await write<object>(event, path, body, schema, { key: id });
  if (!answer.ok) return stationRefusal(answer, data);
  redirect(303, `/station/visitors${hash}`);
}

export const actions: Actions = {
  add: (event) => tell(event, (data, id) => ({ path: '/api/gear/visitors', body: { id, name: text(data, 'name') }, schema: GearState })),
  confirm: (event) =>
    tell(
      event,
      (data, id) => ({ path: `/api/gear/visitors/${text(data, 'seatId')}/confirm`, body: { id, itemKey: text(data, 'itemKey') }, schema: GearState }),
      '#next-item',
    ),
  left: (event) => tell(event, (data) => ({ path: `/api/gear/visitors/${text(data, 'seatId')}/left`, body: {}, schema: Empty })),
};
