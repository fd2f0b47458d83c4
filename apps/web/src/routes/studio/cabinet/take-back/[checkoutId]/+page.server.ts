import { error, redirect } from '@sveltejs/kit';
import { Cabinet } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read } from '#lib/server/api.ts';
import { checkoutById } from '#lib/server/checkouts.ts';
import { Faults } from '#lib/server/faults.ts';
import { text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import type { Actions, PageServerLoad } from './$types';

const FIELDS = ['mass', 'scaleId', 'scaleStep', 'remark'] as const;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const asked = event.url.searchParams;
  const [checkout, { stand }] = await Promise.all([checkoutById(event, event.params.checkoutId), read(event, '/api/cabinet', Cabinet)]);
  const start = {
    mass: asked.get('mass') ?? '',
    scaleId: asked.get('scaleId') ?? stand.scales.find(({ name }) => name === checkout.scaleName)?.id ?? '',
    scaleStep: asked.get('scaleStep') ?? rememberedStep(event),
    remark: asked.get('remark') ?? '',
  };
  return { id: newId(), checkout, scales: stand.scales, start };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const checkout = await checkoutById(event, event.params.checkoutId);
    if (checkout.returnedMg !== null) error(409, 'This was taken back already', { detail: 'Open the cabinet: it is not among what is out any more.' });
    const faults = new Faults();
    faults.massMg(data, 'mass', checkout.whole ? 'Write what the container weighs now, with its lid.' : 'Write the mass that comes back; 0 when nothing does.');
    if (text(data, 'scaleId') === '') faults.stepMg(data, 'scaleStep');
    if (faults.found.length > 0) return faults.refuse(data);
    if (text(data, 'scaleStep') !== '') rememberStep(event, text(data, 'scaleStep'));
    const typed = new URLSearchParams(FIELDS.map((name) => [name, text(data, name)]));
    redirect(303, `/studio/cabinet/take-back/${checkout.id}/check?${typed}`);
  },
};
