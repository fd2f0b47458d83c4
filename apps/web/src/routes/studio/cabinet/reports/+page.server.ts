import { redirect } from '@sveltejs/kit';
import { Created, Reports } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

/** The month before this one, first and last day. */
function lastMonth(today: Date) {
  const first = new Date(Date.UTC(today.getUTCFullYear(), today.getUTCMonth() - 1, 1));
  const last = new Date(Date.UTC(today.getUTCFullYear(), today.getUTCMonth(), 0));
  return { fromDay: first.toISOString().slice(0, 10), toDay: last.toISOString().slice(0, 10) };
}

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  return { id: newId(), ...(await read(event, '/api/balance-reports', Reports)), ...lastMonth(new Date()) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/balance-reports', { id, fromDay: text(data, 'fromDay'), toDay: text(data, 'toDay') }, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/reports/${id}`);
  },
};
