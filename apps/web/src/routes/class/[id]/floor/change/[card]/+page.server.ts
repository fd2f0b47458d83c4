import { redirect } from '@sveltejs/kit';
import { CardChangeOut, CardOut, ProposalOut } from '@ashwater/contracts';
import type { ApproveChange } from '@ashwater/contracts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { newId } from '#lib/id.ts';
import { read, tryRead, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

/** Both answers at once: what to do when it is in the pot, and when it still stands in its cup. */
export const load: PageServerLoad = async (event) => {
  const card = await read(event, `/api/cards/${event.params.card}`, CardOut);
  const ask = (mixed: boolean) => tryRead(event, `/api/cards/${card.id}/proposal?mixed=${mixed}`, ProposalOut);
  const [inPot, inCup] = await Promise.all([ask(true), ask(false)]);
  return { ids: [newId(), newId()], classId: event.params.id, card, inPot, inCup, mayApprove: mayPlan(event.locals.staff?.role) };
};

export const actions: Actions = {
  approve: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = {
      id,
      stepNo: Number(text(data, 'stepNo')),
      mixed: text(data, 'mixed') === 'true',
      act: text(data, 'act') as ApproveChange['act'],
      basis: text(data, 'basis').split(' ').filter(Boolean),
    };
    const answer = await write(event, `/api/cards/${event.params.card}/changes`, body, CardChangeOut, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/class/${event.params.id}/floor`);
  },
};
