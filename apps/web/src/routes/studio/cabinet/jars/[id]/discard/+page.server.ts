import { redirect } from '@sveltejs/kit';
import { Empty } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { jarById } from '#lib/server/jars.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  return { id: newId(), jar: await jarById(event, event.params.id) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `/api/jars/${encodeURIComponent(event.params.id)}/discard`, { id, remark: text(data, 'remark') }, Empty, { key: id });
    // Discarded by somebody else a moment ago is what was wanted.
    if (!answer.ok && answer.problem.code !== 'jar-discarded') return refuse(answer, data);
    redirect(303, `/studio/cabinet/jars?discarded=${event.params.id}`);
  },
};
