import { redirect } from '@sveltejs/kit';
import { CardOut, FloorView, JarOut, PaperEntered } from '@ashwater/contracts';
import { linesOf, stepsLeft } from '#lib/components/class/paper.ts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { derivedId } from '#lib/server/derived-id.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { instantOf } from '#lib/zone.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const floor = await read(event, `/api/classes/${event.params.id}/floor`, FloorView);
  const station = floor.stations.find((each) => each.cardId !== null && each.cardId === event.url.searchParams.get('card'));
  const frame = { classId: floor.classId, title: floor.title, stations: floor.stations, id: newId(), jarId: newId() };
  if (!station?.cardId) return { ...frame, station: null, card: null, steps: [] };
  const card = await read(event, `/api/cards/${station.cardId}`, CardOut);
  const steps = stepsLeft(card.content, station.stepNo);
  return { ...frame, station, card, steps };
};

const zoneOf = (locals: App.Locals): string => locals.staff?.studio.timeZone ?? 'UTC';
const pageOf = (classId: string, cardId: string): string => `/class/${classId}/floor/paper?card=${encodeURIComponent(cardId)}`;

export const actions: Actions = {
  enter: async (event) => {
    const data = await event.request.formData();
    const cardId = text(data, 'cardId');
    const id = formId(data);
    const floor = await read(event, `/api/classes/${event.params.id}/floor`, FloorView);
    const stepNo = floor.stations.find((station) => station.cardId === cardId)?.stepNo ?? null;
    const lines = linesOf(
      (name) => text(data, name),
      stepNo,
      (part) => derivedId(id, part),
    );
    if (lines.length === 0) return refuseField(data, 'form', 'Nothing is entered yet: fill in or tick the first line.');
    const answer = await write(event, `/api/cards/${cardId}/paper`, { lines }, PaperEntered, { key: id });
    if (!answer.ok) return refuse(answer, data);
    const { stopped } = answer.value;
    if (stopped) return refuseField(data, `entered/${stopped.stepNo}`, `${stopped.detail} What stands above it is entered.`);
    redirect(303, pageOf(event.params.id, cardId));
  },
  jar: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const cardId = text(data, 'cardId');
    const wall = text(data, 'madeAt');
    const at = instantOf(wall, zoneOf(event.locals));
    if (wall !== '' && (at.kind === 'never' || at.kind === 'unreadable'))
      return refuseField(data, 'madeAt', 'This is no time that a clock here showed. Write it as day and time.');
    const body = { id, cardId, mass: text(data, 'mass'), ...('at' in at ? { madeAt: at.at } : {}) };
    const answer = await write(event, '/api/jars/from-paper', body, JarOut, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, pageOf(event.params.id, cardId));
  },
};
