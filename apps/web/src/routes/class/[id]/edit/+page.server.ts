import { redirect } from '@sveltejs/kit';
import { ClassOut } from '@ashwater/contracts';
import { benchChoice } from '#lib/components/class/class-form.ts';
import { saveClass } from '#lib/components/class/class-actions.server.ts';
import { classChoices } from '#lib/components/class/class-choices.server.ts';
import { newId } from '#lib/id.ts';
import { read } from '#lib/server/api.ts';
import { wallOf } from '#lib/zone.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  if (room.status !== 'draft') redirect(303, `/class/${room.id}`);
  const { stations, ...choices } = await classChoices(event, zone);
  const benches = stations.map((bench) => {
    const set = room.stations.find((each) => each.stationId === bench.id);
    return set
      ? benchChoice({ ...set, name: bench.name }, { id: set.id, stationId: bench.id }, true)
      : benchChoice(bench, { id: newId(), stationId: bench.id }, false);
  });
  const start = {
    title: room.title,
    startsAt: wallOf(room.startsAt, zone),
    room: room.room,
    recipeVersionId: room.recipeVersionId,
    naohLotId: room.naohLotId ?? '',
    kohLotId: room.kohLotId ?? '',
    sparePercent: String(room.sparePercent),
  };
  return { id: newId(), classId: room.id, ...choices, benches, start };
};

export const actions: Actions = { default: (event) => saveClass(event, event.params.id) };
