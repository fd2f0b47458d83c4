import { redirect } from '@sveltejs/kit';
import { Cabinet, Empty } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { checkoutById } from '#lib/server/checkouts.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

const TYPED = ['mass', 'scaleId', 'scaleStep', 'remark'] as const;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const typed = Object.fromEntries(TYPED.map((name) => [name, event.url.searchParams.get(name) ?? ''])) as Record<(typeof TYPED)[number], string>;
  const [checkout, { stand }] = await Promise.all([checkoutById(event, event.params.checkoutId), read(event, '/api/cabinet', Cabinet)]);
  const weighed = parseMass(typed.mass);
  const step = typed.scaleId === '' ? parseMass(typed.scaleStep) : null;
  const changeHref = `/studio/cabinet/take-back/${checkout.id}?${new URLSearchParams(typed)}`;
  // Taken back already (the browser's Back), or nothing that can be recorded: the page before says which.
  if (checkout.returnedMg !== null || !weighed.ok || step?.ok === false) redirect(303, changeHref);
  const weighedMg = weighed.value.massMg;
  const usedMg = checkout.whole ? (checkout.grossMg ?? 0) - weighedMg : checkout.massMg - weighedMg;
  // What is heavier than what went out is judged when it is recorded; shown here as nothing used.
  const shownUsedMg = Math.min(Math.max(usedMg, 0), checkout.massMg);
  return {
    ...{ id: newId(), checkout, typed, changeHref, weighedMg, usedMg: shownUsedMg, backMg: checkout.massMg - shownUsedMg },
    heavierMg: Math.max(0, -usedMg),
    scaleName: stand.scales.find((scale) => scale.id === typed.scaleId)?.name ?? null,
    stepMg: step?.ok ? step.value.massMg : null,
  };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const { checkoutId } = event.params;
    const field = text(data, 'whole') === 'true' ? 'gross' : 'mass';
    const body = { [field]: text(data, 'mass'), scaleId: text(data, 'scaleId') || null, scaleStep: text(data, 'scaleStep'), remark: text(data, 'remark') };
    const answer = await write(event, `/api/checkouts/${encodeURIComponent(checkoutId)}/return`, body, Empty, { key: formId(data) });
    if (!answer.ok && answer.problem.code !== 'already-returned') {
      // On the pages it is one field, whatever the API calls it.
      for (const fault of answer.problem.errors ?? []) if (fault.pointer === '/gross') fault.pointer = '/mass';
      return refuse(answer, data);
    }
    redirect(303, `/studio/cabinet/take-back/${checkoutId}`);
  },
};
