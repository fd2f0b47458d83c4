import { redirect } from '@sveltejs/kit';
import { ClassDifferences, Created } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const classId = event.url.searchParams.get('classId');
  const path = classId === null ? '/api/class-differences' : (`/api/class-differences?classId=${encodeURIComponent(classId)}` as const);
  return { id: newId(), classId, saved: event.url.searchParams.has('saved'), ...(await read(event, path, ClassDifferences)) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const [classId, substance] = text(data, 'about').split(' ');
    const body = { id, substance, kind: text(data, 'kind'), mass: text(data, 'mass'), remark: text(data, 'remark') };
    const answer = await write(event, `/api/classes/${encodeURIComponent(classId ?? '')}/differences`, body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/differences?${event.url.searchParams.has('classId') ? `classId=${encodeURIComponent(classId ?? '')}&` : ''}saved`);
  },
};
