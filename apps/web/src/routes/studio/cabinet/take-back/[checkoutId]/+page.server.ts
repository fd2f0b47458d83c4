import { error, redirect } from '@sveltejs/kit';
import { formatMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { checkoutById } from '#lib/server/checkouts.ts';
import { Faults } from '#lib/server/faults.ts';
import { text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const asked = event.url.searchParams;
  const checkout = await checkoutById(event, event.params.checkoutId);
  return { id: newId(), checkout, start: { mass: asked.get('mass') ?? '', scaleStep: asked.get('scaleStep') ?? rememberedStep(event) } };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const checkout = await checkoutById(event, event.params.checkoutId);
    if (checkout.returnedMg !== null) error(409, 'This was taken back already', { detail: 'Open the cabinet: it is not among what is out any more.' });
    const faults = new Faults();
    const massMg = faults.massMg(data, 'mass', 'Write the mass that comes back; 0 when nothing does.');
    if (massMg !== null && massMg > checkout.massMg)
      faults.add('mass', `${formatMass(checkout.massMg)} went out; ${formatMass(massMg)} cannot come back. Weigh again without the vessel.`);
    faults.stepMg(data, 'scaleStep');
    if (faults.found.length > 0) return faults.refuse(data);
    rememberStep(event, text(data, 'scaleStep'));
    const typed = new URLSearchParams({ mass: text(data, 'mass'), scaleStep: text(data, 'scaleStep') });
    redirect(303, `/studio/cabinet/take-back/${checkout.id}/check?${typed}`);
  },
};
