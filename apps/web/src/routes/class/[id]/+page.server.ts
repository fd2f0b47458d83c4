import { redirect } from '@sveltejs/kit';
import { ClassOut, Empty } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse } from '#lib/server/forms.ts';
import { qrCode } from '#lib/server/qr.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  const qr = (code: string) => qrCode(`${event.url.origin}/join/${code}`);
  const codes =
    room.status === 'published'
      ? { room: qr(room.joinCode), stations: Object.fromEntries(room.stations.map((station) => [station.id, qr(station.joinCode)])) }
      : null;
  return { id: newId(), room, codes, mayPlan: mayPlan(event.locals.staff?.role) };
};

export const actions: Actions = {
  close: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/classes/${event.params.id}/close`, {}, Empty, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}`);
  },
};
