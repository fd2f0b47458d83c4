import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Cabinet, ReceivedLot } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { keepChosen } from '#lib/server/files.ts';
import { formId, refuse, text, typedValues } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { checkLot } from '#lib/server/lot-check.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import { lotBody, withLine, withoutLine } from '#lib/studio/lot-form.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const { stand } = await read(event, '/api/cabinet', Cabinet);
  return { id: newId(), containerId: newId(), scaleStep: rememberedStep(event), scales: stand.scales, currency: stand.currency };
};

/** Keeps the files that came along; what is wrong with them, by field. */
async function keepFiles(event: RequestEvent, data: FormData): Promise<[field: string, fault: string][]> {
  const faults: [string, string][] = [];
  for (const field of ['certificateFile', 'sdsFile']) {
    const fault = await keepChosen(event, data, field);
    if (fault !== null) faults.push([field, fault]);
  }
  return faults;
}

export const actions: Actions = {
  /** One container line more or less; nothing is checked yet. */
  lines: async (event) => {
    const data = await event.request.formData();
    await keepFiles(event, data);
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
    const ofFiles = await keepFiles(event, data);
    const id = formId(data);
    const values = typedValues(data);
    const { lots, stand } = await read(event, '/api/cabinet', Cabinet);
    const { faults, check } = checkLot(data, values, id, lots, ofFiles);
    if (!check) return faults.refuse(data);
    const overMg = stand.totalMg + check.containers.reduce((sum, { grossMg, tareMg }) => sum + grossMg - tareMg, 0) - stand.limitMg;
    const over = `With this delivery the studio holds ${formatMass(overMg)} more than its storage limit of ${formatMass(stand.limitMg)}. It is recorded all the same: the book says what is there.`;
    const scaleName = stand.scales.find((scale) => scale.id === values['scaleId'])?.name ?? '';
    return { check: { id, values, ...check, scaleName, warnings: overMg > 0 ? [over] : [] } };
  },
  record: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, '/api/lots', lotBody(typedValues(data), id), ReceivedLot, { key: id });
    if (!answer.ok) return refuse(answer, data);
    if (text(data, 'scaleStep') !== '') rememberStep(event, text(data, 'scaleStep'));
    redirect(303, `/studio/cabinet?received=${answer.value.id}`);
  },
};
