import { redirect } from '@sveltejs/kit';
import { Created, Empty, StockPlan } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { derivedId } from '#lib/server/derived-id.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  return { id: newId(), plan: await read(event, '/api/stock-plan', StockPlan), readAt: new Date().toISOString() };
};

const FIELDS = ['supplier', 'substance', 'product', 'pack', 'price', 'freight', 'minimumPacks', 'purityPercent', 'leadDays'];

export const actions: Actions = {
  note: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, ...Object.fromEntries(FIELDS.map((name) => [name, text(data, name)])) };
    const answer = await write(event, '/api/supplier-offers', body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/cabinet/planning');
  },
  retire: async (event) => {
    const data = await event.request.formData();
    const offerId = text(data, 'offerId');
    const answer = await write(event, `/api/supplier-offers/${encodeURIComponent(offerId)}/retire`, {}, Empty, { key: derivedId(formId(data), offerId) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/cabinet/planning');
  },
};
