import { redirect } from '@sveltejs/kit';
import { Cabinet, Created } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text, typedValues } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { checkLot } from '#lib/server/lot-check.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import { lotBody, withLine, withoutLine } from '#lib/studio/lot-form.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = (event) => {
  requireKeeper(event.locals);
  return { id: newId(), containerId: newId(), scaleStep: rememberedStep(event) };
};

export const actions: Actions = {
  /** One container line more or less; nothing is checked yet. */
  lines: async ({ request }) => {
    const data = await request.formData();
    const typed = typedValues(data);
    const removed = data.has('remove') ? Number(text(data, 'remove')) : null;
    const values = removed === null ? withLine(typed, newId()) : withoutLine(typed, removed);
    return { edit: { id: formId(data), values, added: removed === null } };
  },
  change: async ({ request }) => {
    const data = await request.formData();
    return { edit: { id: formId(data), values: typedValues(data), added: false } };
  },
  check: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const values = typedValues(data);
    const { lots } = await read(event, '/api/cabinet', Cabinet);
    const { faults, check } = checkLot(data, values, id, lots);
    if (!check) return faults.refuse(data);
    return { check: { id, values, ...check } };
  },
  record: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/lots', lotBody(typedValues(data), id), Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    rememberStep(event, text(data, 'scaleStep'));
    redirect(303, `/studio/cabinet?received=${answer.value.id}`);
  },
};
