import { redirect } from '@sveltejs/kit';
import { CheckOuts, Created } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { choices, needOf } from '#lib/server/hand-out.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const typed = event.url.searchParams;
  const value = (name: string): string => typed.get(name) ?? '';
  const change = new URLSearchParams([...typed].filter(([name]) => name !== 'id'));
  const changeHref = `/studio/cabinet/hand-out?${change}`;
  const { checkouts } = await read(event, '/api/checkouts', CheckOuts);
  const id = value('id');
  // Came back by the browser's Back: the id in the address says that this one is in the book already.
  const recorded = checkouts.find((checkout) => checkout.id === id);
  if (recorded) return { recorded, changeHref, id: newId(), check: null };
  const { classes, containers } = await choices(event);
  const chosen = classes.find((each) => each.id === value('classId'));
  const container = containers.find((each) => each.id === value('containerId'));
  const mass = parseMass(value('mass'));
  const step = parseMass(value('scaleStep'));
  if (!id || !chosen || !container || !mass.ok || !step.ok || mass.value.massMg > container.balanceMg) redirect(303, changeHref);
  const { neededMg } = await needOf(event, chosen.id, container);
  const before = checkouts.filter((each) => each.classId === chosen.id && each.substance === container.substance);
  const handedMg = before.reduce((sum, { massMg }) => sum + massMg, 0);
  const { massMg } = mass.value;
  return {
    recorded: null,
    changeHref,
    id: newId(),
    check: { checkoutId: id, chosen, container, massMg, mass: value('mass'), scaleStep: value('scaleStep'), stepMg: step.value.massMg, neededMg, handedMg },
  };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    // The hand-out's id is the address's own; the form's id, new after a refusal, is only the key.
    const id = text(data, 'checkoutId');
    const body = { id, classId: text(data, 'classId'), containerId: text(data, 'containerId'), mass: text(data, 'mass'), scaleStep: text(data, 'scaleStep') };
    const answer = await write(event, '/api/checkouts', body, Created, { key: formId(data) });
    if (!answer.ok && answer.problem.code !== 'already-exists') return refuse(answer, data);
    redirect(303, `/studio/cabinet?handed=${id}`);
  },
};
