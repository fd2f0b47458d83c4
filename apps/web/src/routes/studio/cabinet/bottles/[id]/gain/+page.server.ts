import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { BottleOut, Cabinet, Created } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { checkGain } from '#lib/server/bottle-check.ts';
import { formId, refuse, text, typedValues } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import type { Actions, PageServerLoad } from './$types';

const bottleAt = (event: RequestEvent): Promise<BottleOut> => read(event, `/api/containers/${encodeURIComponent(event.params['id'] ?? '')}`, BottleOut);

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const [bottle, { stand }] = await Promise.all([bottleAt(event), read(event, '/api/cabinet', Cabinet)]);
  return { id: newId(), bottle, scales: stand.scales, scaleStep: rememberedStep(event) };
};

export const actions: Actions = {
  check: async (event) => {
    const data = await event.request.formData();
    const { faults, massMg } = checkGain(data, await bottleAt(event));
    if (faults.found.length > 0) return faults.refuse(data);
    return { check: { id: formId(data), values: typedValues(data), massMg } };
  },
  change: async ({ request }) => {
    const data = await request.formData();
    return { edit: typedValues(data) };
  },
  record: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const field = (name: string) => text(data, name);
    const body = { id, gross: field('gross'), mass: field('mass'), reason: field('reason'), scaleId: field('scaleId') || null, scaleStep: field('scaleStep') };
    const answer = await write(event, `/api/containers/${encodeURIComponent(event.params.id)}/uptakes`, body, Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    if (body.scaleStep !== '') rememberStep(event, body.scaleStep);
    redirect(303, `/studio/cabinet/bottles/${event.params.id}?recorded=gain`);
  },
};
