import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { CheckOutMade, CheckOuts, People, StockSettings } from '@ashwater/contracts';
import type { ContainerOut } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation/quantity';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { choices, dueOf, needOf, purposeOf } from '#lib/server/hand-out.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

const TYPED = ['classId', 'containerId', 'how', 'mass', 'scaleId', 'scaleStep', 'takenBy', 'dueAt', 'remark'] as const;
const HOUR_MS = 3_600_000;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const asked = event.url.searchParams;
  const typed = Object.fromEntries(TYPED.map((name) => [name, asked.get(name) ?? ''])) as Record<(typeof TYPED)[number], string>;
  const changeHref = `/studio/cabinet/hand-out?${new URLSearchParams([...asked].filter(([name]) => name !== 'id'))}`;
  const { checkouts } = await read(event, '/api/checkouts', CheckOuts);
  const id = asked.get('id') ?? '';
  // Came back by the browser's Back: the id in the address says that this one is in the book already.
  const recorded = checkouts.find((checkout) => checkout.id === id);
  if (recorded) return { recorded, changeHref, id: newId(), check: null };
  const [{ classes, containers, scales }, { people }, limits] = await Promise.all([
    choices(event),
    read(event, '/api/people', People),
    read(event, '/api/stock-settings', StockSettings),
  ]);
  const chosen = classes.find((each) => each.id === typed.classId) ?? null;
  const container = containers.find((each) => each.id === typed.containerId);
  const whole = typed.how === 'whole';
  const weighed = parseMass(typed.mass);
  const step = typed.scaleId === '' ? parseMass(typed.scaleStep) : null;
  const due = dueOf(typed.dueAt, event.locals.staff?.studio.timeZone ?? 'UTC');
  if (!id || (!chosen && purposeOf(typed.classId) === 'class') || !container || !weighed.ok || step?.ok === false || due === undefined)
    redirect(303, changeHref);
  const massMg = whole ? container.balanceMg : weighed.value.massMg;
  if (massMg > container.balanceMg) redirect(303, changeHref);
  const ofClass = chosen ? await needs(event, chosen.id, container, checkouts) : null;
  return {
    recorded: null,
    changeHref,
    id: newId(),
    check: {
      ...{ checkoutId: id, typed, chosen, purpose: purposeOf(typed.classId), container, whole, massMg, ofClass },
      grossMg: whole ? weighed.value.massMg : null,
      scaleName: scales.find((scale) => scale.id === typed.scaleId)?.name ?? null,
      stepMg: step?.ok ? step.value.massMg : null,
      taker: people.find((person) => person.id === typed.takenBy)?.name ?? event.locals.staff?.name ?? '',
      dueAt: due ?? new Date(Date.now() + limits.checkoutHours * HOUR_MS).toISOString(),
      second: limits.twoPersonKeys || massMg > limits.twoPersonOverMg,
    },
  };
};

async function needs(event: RequestEvent, classId: string, container: ContainerOut, checkouts: ReturnType<(typeof CheckOuts)['parse']>['checkouts']) {
  const { neededMg } = await needOf(event, classId, container);
  const before = checkouts.filter((each) => each.classId === classId && each.substance === container.substance);
  return { neededMg, handedMg: before.reduce((sum, { massMg }) => sum + massMg, 0) };
}

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    // The hand-out's id is the address's own; the form's id, new after a refusal, is only the key.
    const id = text(data, 'checkoutId');
    const purpose = purposeOf(text(data, 'classId'));
    const whole = text(data, 'how') === 'whole';
    const due = dueOf(text(data, 'dueAt'), event.locals.staff?.studio.timeZone ?? 'UTC');
    const body = {
      id,
      purpose,
      classId: purpose === 'class' ? text(data, 'classId') : null,
      containerId: text(data, 'containerId'),
      ...(whole ? { whole, gross: text(data, 'mass') } : { mass: text(data, 'mass') }),
      scaleId: text(data, 'scaleId') || null,
      scaleStep: text(data, 'scaleStep'),
      ...(text(data, 'takenBy') === '' ? {} : { takenBy: text(data, 'takenBy') }),
      ...(due ? { dueAt: due } : {}),
      remark: text(data, 'remark'),
    };
    const answer = await write(event, '/api/checkouts', body, CheckOutMade, { key: formId(data) });
    if (!answer.ok && answer.problem.code !== 'already-exists') return refuse(answer, data);
    if (answer.ok && answer.value.waiting) redirect(303, '/studio/cabinet/hand-out?waits');
    redirect(303, `/studio/cabinet?handed=${id}`);
  },
};
