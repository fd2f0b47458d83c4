import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Cause, Created, NoteOut, NoteWriter } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { followUpActions } from '#lib/server/follow-up-actions.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const note = await read(event, `/api/notes/${encodeURIComponent(event.params.id)}`, NoteOut);
  return { id: newId(), note, added: event.url.searchParams.get('added') };
};

/** Sends what a form of this page holds, and comes back to where it stood. */
async function send(event: RequestEvent, path: string, bodyOf: (data: FormData, id: string) => object, at: string) {
  const data = await event.request.formData();
  const id = formId(data);
  const answer = await write(event, `/api/notes/${encodeURIComponent(event.params['id'] ?? '')}/${path}`, bodyOf(data, id), Created, { key: id });
  if (!answer.ok) {
    const failed = refuse(answer, data);
    failed.data.values['which'] = path;
    return failed;
  }
  redirect(303, `/studio/notes/${event.params['id']}?added=${answer.value.id}#${at}`);
}
const idIn = (data: FormData, name: string) => text(data, name) || null;

export const actions: Actions = {
  review: (event) =>
    send(event, 'reviews', (data, id) => ({ id, outcome: text(data, 'outcome'), learned: text(data, 'learned'), change: text(data, 'change') }), 'reviews'),
  triage: (event) =>
    send(
      event,
      'triage',
      (data, id) => ({
        id,
        actual: text(data, 'actual'),
        potential: text(data, 'potential'),
        category: text(data, 'category'),
        causes: Cause.options.filter((cause) => data.get(`cause/${cause}`) !== null),
        staff: data.get('staff') !== null,
        classId: idIn(data, 'classId'),
        cardId: idIn(data, 'cardId'),
        lotId: idIn(data, 'lotId'),
        containerId: idIn(data, 'containerId'),
      }),
      'judged',
    ),
  merge: (event) => send(event, 'merge', (data, id) => ({ id, intoId: idIn(data, 'intoId') }), 'same'),
  ask: (event) => send(event, 'amendments', (data, id) => ({ id, text: text(data, 'text') }), 'facts'),
  writer: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/notes/${encodeURIComponent(event.params.id)}/writer`, {}, NoteWriter, { key: formId(data) });
    return answer.ok ? { writer: answer.value.byName } : refuse(answer, data);
  },
  follow: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = {
      id,
      noteId: event.params.id,
      what: text(data, 'followUpWhat'),
      kind: text(data, 'followUpKind'),
      ownerId: text(data, 'ownerId'),
      dueOn: text(data, 'dueOn'),
    };
    const answer = await write(event, '/api/follow-ups', body, Created, { key: id });
    if (answer.ok) redirect(303, `/studio/notes/${event.params.id}#f-${id}`);
    const errors = answer.problem.errors?.map((fault) => ({
      ...fault,
      pointer: fault.pointer.replace(/^\/(what|kind)$/, (_, name: string) => `/followUp${name === 'what' ? 'What' : 'Kind'}`),
    }));
    const failed = refuse({ ...answer, problem: { ...answer.problem, errors } }, data);
    failed.data.values['which'] = 'follow';
    return failed;
  },
  ...followUpActions,
};
