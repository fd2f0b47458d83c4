import { redirect } from '@sveltejs/kit';
import { Empty } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { write } from '#lib/server/api.ts';
import { checkoutById } from '#lib/server/checkouts.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const mass = event.url.searchParams.get('mass') ?? '';
  const scaleStep = event.url.searchParams.get('scaleStep') ?? '';
  const checkout = await checkoutById(event, event.params.checkoutId);
  const back = parseMass(mass);
  const step = parseMass(scaleStep);
  const changeHref = `/studio/cabinet/take-back/${checkout.id}?${new URLSearchParams({ mass, scaleStep })}`;
  // Taken back already (the browser's Back), or nothing that can be recorded: the page before says which.
  if (checkout.returnedMg !== null || !back.ok || !step.ok || back.value.massMg > checkout.massMg) redirect(303, changeHref);
  return { id: newId(), checkout, mass, scaleStep, changeHref, backMg: back.value.massMg, stepMg: step.value.massMg };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const { checkoutId } = event.params;
    const body = { mass: text(data, 'mass'), scaleStep: text(data, 'scaleStep') };
    const answer = await write(event, `/api/checkouts/${encodeURIComponent(checkoutId)}/return`, body, Empty, { key: formId(data) });
    if (!answer.ok && answer.problem.code !== 'already-returned') return refuse(answer, data);
    redirect(303, `/studio/cabinet/take-back/${checkoutId}`);
  },
};
