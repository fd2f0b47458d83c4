import { redirect } from '@sveltejs/kit';
import { Empty, StockRequests } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { derivedId } from '#lib/server/derived-id.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const asked = event.url.searchParams.get('asked');
  return { id: newId(), ...(await read(event, '/api/stock-requests', StockRequests)), asked };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const [id, requestId] = [formId(data), text(data, 'requestId')];
    const body = { outcome: text(data, 'outcome'), remark: text(data, 'remark') };
    // Each request of the page has a key of its own: approving one and then another is not the same act twice.
    const answer = await write(event, `/api/stock-requests/${encodeURIComponent(requestId)}/decide`, body, Empty, { key: derivedId(id, requestId) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/cabinet/requests');
  },
};
