import { redirect } from '@sveltejs/kit';
import { CabinetScales, Created } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { scales } = await read(event, '/api/scales', CabinetScales);
  return { id: newId(), inUse: scales.filter(({ retiredAt }) => retiredAt === null), retired: scales.filter(({ retiredAt }) => retiredAt !== null) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = {
      id,
      name: text(data, 'name'),
      step: text(data, 'step'),
      capacity: text(data, 'capacity'),
      verificationInterval: text(data, 'verificationInterval'),
      accuracyClass: text(data, 'accuracyClass'),
    };
    const answer = await write(event, '/api/scales', body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/scales/${answer.value.id}?saved=scale`);
  },
};
