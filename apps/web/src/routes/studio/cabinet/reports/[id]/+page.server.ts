import { redirect } from '@sveltejs/kit';
import { Empty, ReportOut } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const report = await read(event, `/api/balance-reports/${encodeURIComponent(event.params.id)}`, ReportOut);
  return { id: newId(), report, studioName: event.locals.staff?.studio.name ?? '', readAt: new Date().toISOString() };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `/api/balance-reports/${encodeURIComponent(event.params.id)}/sign`, {}, Empty, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/reports/${event.params.id}`);
  },
};
