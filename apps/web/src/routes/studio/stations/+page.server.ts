import { redirect } from '@sveltejs/kit';
import { Created, Stations } from '@ashwater/contracts';
import { mayAddStations } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  id: newId(),
  ...(await read(event, '/api/stations', Stations)),
  mayAdd: mayAddStations(event.locals.staff?.role),
  added: event.url.searchParams.get('added'),
});

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const part = (name: string) => text(data, name);
    const body = {
      id,
      name: part('name'),
      scaleStep: part('scaleStep'),
      scaleCapacity: part('scaleCapacity'),
      mouldName: part('mouldName'),
      mouldVolumeMl: part('mouldVolumeMl'),
    };
    const answer = await write(event, '/api/stations', body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/stations?added=${id}`);
  },
};
