import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { ClassOut, Created, Empty, RecipeOut } from '@ashwater/contracts';
import { readStart } from '#lib/components/class/class-form.ts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { qrCode } from '#lib/server/qr.ts';
import { wallOf } from '#lib/zone.ts';
import { isKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

const WEEK_MS = 7 * 86_400_000;
const zoneOf = (event: Pick<RequestEvent, 'locals'>): string => event.locals.staff?.studio.timeZone ?? 'UTC';

/** Same time on the first such weekday that is still to come. */
function nextTime(startsAt: string, zone: string, now: number): string {
  const start = Date.parse(startsAt);
  const weeks = Math.max(1, Math.ceil((now - start) / WEEK_MS));
  const day = wallOf(new Date(start + weeks * WEEK_MS).toISOString(), zone).slice(0, 10);
  return `${day}T${wallOf(startsAt, zone).slice(11)}`;
}

export const load: PageServerLoad = async (event) => {
  const room = await read(event, `/api/classes/${event.params.id}`, ClassOut);
  const zone = zoneOf(event);
  const plans = mayPlan(event.locals.staff?.role);
  const { versions } = plans ? await read(event, `/api/recipes/${room.recipeId}`, RecipeOut) : { versions: [] };
  const qr = (code: string) => qrCode(`${event.url.origin}/join/${code}`);
  const codes =
    room.status === 'published'
      ? { room: qr(room.joinCode), stations: Object.fromEntries(room.stations.map((station) => [station.id, qr(station.joinCode)])) }
      : null;
  const forms = ['close', 'move', 'copy', 'cancel', ...room.checklist.flatMap((item) => item.checkKey ?? [])];
  return {
    ids: Object.fromEntries(forms.map((name) => [name, newId()])),
    room,
    codes,
    mayPlan: plans,
    keeper: isKeeper(event.locals),
    startsAt: wallOf(room.startsAt, zone),
    copyAt: nextTime(room.startsAt, zone, Date.now()),
    versions: versions.map((version, i) => ({ value: version.id, label: `${version.title}, version ${version.number}${i === 0 ? ' (newest)' : ''}` })),
  };
};

/** Sends what the form says to one of the class's acts, then shows the class: this one, or the one that was made. */
async function act(event: RequestEvent, data: FormData, what: string, body: object, fieldOf = (pointer: string) => pointer) {
  const id = formId(data);
  const answer = await write(event, `/api/classes/${event.params['id']}/${what}`, { id, ...body }, Created, { key: id });
  if (!answer.ok) {
    const errors = (answer.problem.errors ?? []).map((fault) => ({ ...fault, pointer: fieldOf(fault.pointer) }));
    return refuse({ ...answer, problem: { ...answer.problem, errors } }, data);
  }
  redirect(303, `/class/${what === 'copy' ? answer.value.id : event.params['id']}`);
}

export const actions: Actions = {
  close: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/classes/${event.params.id}/close`, {}, Empty, { key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}`);
  },
  check: async (event) => {
    const data = await event.request.formData();
    const [itemKey, sound] = [text(data, 'itemKey'), text(data, 'sound') === 'yes'];
    // Every item has a field of its own on the page. A remark begun and left does not belong to "it is right".
    const remark = sound ? '' : text(data, `remark/${itemKey}`);
    return act(event, data, 'checks', { itemKey, sound, remark }, (pointer) => (pointer === '/remark' ? `/remark/${itemKey}` : pointer));
  },
  move: async (event) => {
    const data = await event.request.formData();
    const start = readStart(text(data, 'startsAt'), zoneOf(event));
    return start.ok ? act(event, data, 'move', { startsAt: start.at, room: text(data, 'room') }) : refuseField(data, 'startsAt', start.detail);
  },
  copy: async (event) => {
    const data = await event.request.formData();
    const start = readStart(text(data, 'copyAt'), zoneOf(event));
    if (!start.ok) return refuseField(data, 'copyAt', start.detail);
    const recipeVersionId = text(data, 'recipeVersionId');
    return act(event, data, 'copy', { startsAt: start.at, ...(recipeVersionId ? { recipeVersionId } : {}) });
  },
  cancel: async (event) => {
    const data = await event.request.formData();
    return act(event, data, 'cancel', { reason: text(data, 'reason') });
  },
};
