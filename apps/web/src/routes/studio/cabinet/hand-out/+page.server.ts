import { redirect } from '@sveltejs/kit';
import { newId } from '#lib/id.ts';
import { formId, text } from '#lib/server/forms.ts';
import { choices, handOutFaults, needsOf } from '#lib/server/hand-out.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import type { Actions, PageServerLoad } from './$types';

const FIELDS = ['classId', 'containerId', 'mass', 'scaleStep'] as const;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const found = await choices(event);
  const needs = await needsOf(event, found.classes);
  // What the cards were made for stands on top; a wrong lot would be refused.
  found.containers.sort((a, b) => Number(needs.lotIds.has(b.lotId)) - Number(needs.lotIds.has(a.lotId)));
  const asked = event.url.searchParams;
  const only = <T extends { id: string }>(list: T[]): string => (list.length === 1 ? (list[0]?.id ?? '') : '');
  const start = {
    classId: asked.get('classId') ?? only(found.classes),
    containerId: asked.get('containerId') ?? only(found.containers),
    mass: asked.get('mass') ?? '',
    scaleStep: asked.get('scaleStep') ?? rememberedStep(event),
  };
  return { id: newId(), ...found, needs: needs.words, start };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const faults = await handOutFaults(event, data);
    if (faults.found.length > 0) return faults.refuse(data);
    rememberStep(event, text(data, 'scaleStep'));
    const typed = new URLSearchParams(FIELDS.map((name) => [name, text(data, name)]));
    typed.set('id', formId(data));
    redirect(303, `/studio/cabinet/hand-out/check?${typed}`);
  },
};
