import { ClassOut, Classes, SPARE_DEFAULT_PERCENT } from '@ashwater/contracts';
import { benchChoice } from '#lib/components/class/class-form.ts';
import { saveClass } from '#lib/components/class/class-actions.server.ts';
import { classChoices } from '#lib/components/class/class-choices.server.ts';
import { newId } from '#lib/id.ts';
import { read } from '#lib/server/api.ts';
import { wallOf } from '#lib/zone.ts';
import type { Actions, PageServerLoad } from './$types';

const HOUR_MS = 3_600_000;
const nextFullHour = (now: number): string => new Date((Math.floor(now / HOUR_MS) + 1) * HOUR_MS).toISOString();

/** The class that was written last, to start from: most classes are like the one before. */
async function lastClass(event: Parameters<PageServerLoad>[0]): Promise<ClassOut | null> {
  const { classes } = await read(event, '/api/classes', Classes);
  // Ids are made in the order of time.
  const last = classes.filter((item) => item.status !== 'cancelled').sort((a, b) => (a.id < b.id ? 1 : -1))[0];
  return last ? read(event, `/api/classes/${last.id}`, ClassOut) : null;
}

export const load: PageServerLoad = async (event) => {
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const [{ stations, ...choices }, last] = await Promise.all([classChoices(event, zone), lastClass(event)]);
  const asked = choices.versions.find((version) => version.value === event.url.searchParams.get('recipeVersionId'));
  const only = choices.versions.length === 1 ? choices.versions[0] : undefined;
  const version = asked ?? only;
  // As last time while the cabinet holds it, else the only one there is.
  const lotOf = (lots: { value: string; empty: boolean }[], before: string | null | undefined) => {
    const there = lots.filter((lot) => lot.value !== '' && !lot.empty);
    return there.find((lot) => lot.value === before)?.value ?? (there.length === 1 ? (there[0]?.value ?? '') : '');
  };
  const set = (stationId: string) => last?.stations.find((each) => each.stationId === stationId);
  return {
    id: newId(),
    ...choices,
    // Scale, mould and container are the bench's own: they are looked after there. Last time tells who took part.
    benches: stations.map((bench) => benchChoice({ ...bench, ...pickMould(set(bench.id)) }, { id: newId(), stationId: bench.id }, !last || !!set(bench.id))),
    start: {
      title: version?.title ?? '',
      startsAt: wallOf(nextFullHour(Date.now()), zone),
      room: last?.room ?? '',
      recipeVersionId: version?.value ?? '',
      naohLotId: lotOf(choices.naoh, last?.naohLotId),
      kohLotId: lotOf(choices.koh, last?.kohLotId),
      sparePercent: String(last?.sparePercent ?? SPARE_DEFAULT_PERCENT),
    },
  };
};
type Mould = Pick<ClassOut['stations'][number], 'mouldName' | 'mouldVolumeMl'>;
/** A mould changes from class to class; the last one used there is the likeliest. */
const pickMould = (station: Mould | undefined): Partial<Mould> => (station ? { mouldName: station.mouldName, mouldVolumeMl: station.mouldVolumeMl } : {});

export const actions: Actions = { default: (event) => saveClass(event, null) };
