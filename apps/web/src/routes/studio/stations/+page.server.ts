import { redirect } from '@sveltejs/kit';
import { Changes, Created, Stations } from '@ashwater/contracts';
import { benchOptions } from '#lib/components/class/bench-choices.server.ts';
import { benchFrom } from '#lib/components/class/bench-parts.ts';
import { mayAddStations } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  id: newId(),
  ...(await read(event, '/api/stations', Stations)),
  changes: (await read(event, '/api/note-changes', Changes)).changes.filter(({ target }) => target === 'station' || target === 'gear'),
  mayAdd: mayAddStations(event.locals.staff?.role),
  added: event.url.searchParams.get('added'),
  options: benchOptions(),
});

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, name: text(data, 'name'), ...benchFrom((part) => text(data, part)) };
    const answer = await write(event, '/api/stations', body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/stations?added=${id}`);
  },
};
