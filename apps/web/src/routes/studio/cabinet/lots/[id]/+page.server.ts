import { redirect } from '@sveltejs/kit';
import { Created, LotDetail } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { keepChosen } from '#lib/server/files.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  id: newId(),
  lot: await read(event, `/api/lots/${encodeURIComponent(event.params.id)}`, LotDetail),
  added: event.url.searchParams.has('added'),
});

export const actions: Actions = {
  default: async (event) => {
    requireKeeper(event.locals);
    const data = await event.request.formData();
    const fault = await keepChosen(event, data, 'file');
    if (fault !== null) return refuseField(data, 'file', fault);
    const id = formId(data);
    const body = { id, kind: text(data, 'kind'), link: text(data, 'link'), fileId: text(data, 'fileId') || null, revisedOn: text(data, 'revisedOn') || null };
    const answer = await write(event, `/api/lots/${encodeURIComponent(event.params.id)}/papers`, body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/lots/${event.params.id}?added`);
  },
};
