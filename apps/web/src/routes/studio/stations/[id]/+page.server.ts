import { redirect } from '@sveltejs/kit';
import { CheckWeighOut, Created, StationDetail } from '@ashwater/contracts';
import { benchOptions } from '#lib/components/class/bench-choices.server.ts';
import { benchFrom, benchTyped } from '#lib/components/class/bench-parts.ts';
import { mayAddStations } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const station = await read(event, `/api/stations/${event.params.id}`, StationDetail);
  return {
    id: newId(),
    checkId: newId(),
    station,
    bench: benchTyped(station),
    mayChange: mayAddStations(event.locals.staff?.role),
    options: benchOptions(),
    saved: event.url.searchParams.get('saved'),
  };
};

export const actions: Actions = {
  change: async (event) => {
    const data = await event.request.formData();
    const body = { name: text(data, 'name'), ...benchFrom((part) => text(data, part)) };
    const answer = await write(event, `/api/stations/${event.params.id}`, body, Created, { method: 'PUT', key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/stations/${event.params.id}?saved=set-up`);
  },
  check: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = {
      id,
      scale: text(data, 'scale') === 'lye' ? ('lye' as const) : ('main' as const),
      known: text(data, 'known'),
      // Blank means that nobody knows it; a test weight far better than the scale is said with 0.
      knownLimit: text(data, 'knownLimit'),
      shown: text(data, 'shown'),
    };
    const answer = await write(event, `/api/stations/${event.params.id}/check-weighings`, body, CheckWeighOut, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/stations/${event.params.id}?saved=check`);
  },
};
