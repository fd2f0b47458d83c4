import { redirect } from '@sveltejs/kit';
import { Empty, JarDetail } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { isKeeper, requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  id: newId(),
  jar: await read(event, `/api/jars/${encodeURIComponent(event.params.id)}`, JarDetail),
  keeper: isKeeper(event.locals),
  recorded: event.url.searchParams.has('recorded'),
});

export const actions: Actions = {
  default: async (event) => {
    requireKeeper(event.locals);
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, kind: text(data, 'kind'), mass: text(data, 'mass'), place: text(data, 'place'), remark: text(data, 'remark') };
    const answer = await write(event, `/api/jars/${encodeURIComponent(event.params.id)}/acts`, body, Empty, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/jars/${event.params.id}?recorded`);
  },
};
