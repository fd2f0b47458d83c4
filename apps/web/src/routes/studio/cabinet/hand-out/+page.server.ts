import { redirect } from '@sveltejs/kit';
import { People, StockSettings } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { choices, handOutFaults, needsOf } from '#lib/server/hand-out.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import type { Actions, PageServerLoad } from './$types';

const FIELDS = ['classId', 'containerId', 'how', 'mass', 'scaleId', 'scaleStep', 'takenBy', 'dueAt', 'remark'] as const;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const [found, { people }, limits] = await Promise.all([
    choices(event),
    read(event, '/api/people', People),
    read(event, '/api/stock-settings', StockSettings),
  ]);
  const needs = await needsOf(event, found.classes);
  // What the cards were made for stands on top; a wrong lot would be refused.
  found.containers.sort((a, b) => Number(needs.lotIds.has(b.lotId)) - Number(needs.lotIds.has(a.lotId)));
  const asked = event.url.searchParams;
  const value = (name: (typeof FIELDS)[number], start = ''): string => asked.get(name) ?? start;
  const only = <T extends { id: string }>(list: T[]): string => (list.length === 1 ? (list[0]?.id ?? '') : '');
  const start = {
    classId: value('classId', only(found.classes)),
    containerId: value('containerId', only(found.containers)),
    how: value('how', 'portion'),
    mass: value('mass'),
    scaleId: value('scaleId'),
    scaleStep: value('scaleStep', rememberedStep(event)),
    takenBy: value('takenBy', event.locals.staff?.id),
    dueAt: value('dueAt'),
    remark: value('remark'),
  };
  return { id: newId(), ...found, people: people.filter(({ disabled }) => !disabled), limits, needs: needs.words, start, waits: asked.has('waits') };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const faults = await handOutFaults(event, data, event.locals.staff?.studio.timeZone ?? 'UTC');
    if (faults.found.length > 0) return faults.refuse(data);
    if (text(data, 'scaleStep') !== '') rememberStep(event, text(data, 'scaleStep'));
    const typed = new URLSearchParams(FIELDS.map((name) => [name, text(data, name)]));
    typed.set('id', formId(data));
    redirect(303, `/studio/cabinet/hand-out/check?${typed}`);
  },
};
