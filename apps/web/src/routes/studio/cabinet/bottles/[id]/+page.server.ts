import { redirect } from '@sveltejs/kit';
import { BottleOut, Created } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { isFinal } from '#lib/studio/bottle-words.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  id: newId(),
  bottle: await read(event, `/api/containers/${encodeURIComponent(event.params.id)}`, BottleOut),
  recorded: event.url.searchParams.get('recorded') ?? '',
});

export const actions: Actions = {
  /** What cannot be taken back is shown once more; the rest is recorded at once. */
  act: async (event) => {
    requireKeeper(event.locals);
    const data = await event.request.formData();
    const [id, kind, remark] = [formId(data), text(data, 'kind'), text(data, 'remark')];
    if (kind === '') return refuseField(data, 'kind', 'Choose what was done.');
    if (isFinal(kind) && !data.has('sure')) return { check: { id, kind, remark } };
    const answer = await write(event, `/api/containers/${encodeURIComponent(event.params.id)}/acts`, { id, kind, remark }, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/bottles/${event.params.id}?recorded=${encodeURIComponent(kind)}`);
  },
};
