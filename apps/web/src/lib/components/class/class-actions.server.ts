import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Created } from '@ashwater/contracts';
import { write } from '../../server/api.ts';
import { formId, refuse, refuseField, typedValues } from '../../server/forms.ts';
import { fieldOfStation, readClassForm } from './class-form.ts';

/** Saves a class: a new one, or over the draft with `classId`. Then goes on to its preparation page. */
export async function saveClass(event: RequestEvent, classId: string | null) {
  const data = await event.request.formData();
  const key = formId(data);
  const read = readClassForm(classId ?? key, typedValues(data), event.locals.staff?.studio.timeZone ?? 'UTC');
  if (!read.ok) return refuseField(data, read.fault.name, read.fault.detail);
  const path = classId ? (`/api/classes/${classId}` as const) : '/api/classes';
  const answer = await write(event, path, read.body, Created, { method: classId ? 'PUT' : 'POST', key });
  if (!answer.ok) {
    const errors = answer.problem.errors?.map((fault) => ({ ...fault, pointer: `/${fieldOfStation(fault.pointer, read.benches)}` }));
    return refuse({ ...answer, problem: { ...answer.problem, ...(errors ? { errors } : {}) } }, data);
  }
  redirect(303, `/class/${answer.value.id}`);
}
