import { redirect } from '@sveltejs/kit';
import { Me, SetUpState } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { needed } = await read(event, '/api/setup', SetUpState);
  if (!needed) redirect(303, '/');
  return {
    id: newId(),
    code: event.url.searchParams.get('code') ?? '',
    zones: [...Intl.supportedValuesOf('timeZone'), 'UTC'],
    zoneHere: Intl.DateTimeFormat().resolvedOptions().timeZone,
  };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const body = {
      code: text(data, 'code').trim(),
      studioName: text(data, 'studioName'),
      timeZone: text(data, 'timeZone').trim(),
      emergencyPhone: text(data, 'emergencyPhone'),
      name: text(data, 'name'),
      email: text(data, 'email').trim(),
      password: text(data, 'password'),
    };
    const answer = await write(event, '/api/setup', body, Me, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio');
  },
};
