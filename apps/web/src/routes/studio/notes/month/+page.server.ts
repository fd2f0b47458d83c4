import { redirect } from '@sveltejs/kit';
import { Empty, MonthReview } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const asked = event.url.searchParams.get('month') ?? '';
  const query = /^\d{4}-(0[1-9]|1[0-2])$/.test(asked) ? `?month=${asked}` : '';
  return { id: newId(), review: await read(event, `/api/note-month${query}`, MonthReview) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const month = text(data, 'month');
    const answer = await write(event, '/api/staff-hours', { month, hours: text(data, 'hours') }, Empty, { method: 'PUT', key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/notes/month?month=${encodeURIComponent(month)}`);
  },
};
