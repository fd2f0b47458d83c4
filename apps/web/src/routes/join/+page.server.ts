import { redirect } from '@sveltejs/kit';
import { JoinTarget } from '@ashwater/contracts';
import { CODE_LENGTH, tidyCode } from '#lib/join-code.ts';
import { newId } from '#lib/id.ts';
import { codeOfBench } from '#lib/server/bench.ts';
import { tryRead } from '#lib/server/api.ts';
import { refuse, refuseField, text } from '#lib/server/forms.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { locals, url } = event;
  const left = url.searchParams.has('left');
  // A tablet of the studio's own knows its station.
  const code = locals.seat ? null : await codeOfBench(event);
  if (code && !left) redirect(303, `/join/${code}`);
  return { id: newId(), seat: locals.seat && { name: locals.seat.name }, left, code };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const code = tidyCode(text(data, 'code'));
    if (code === '') return refuseField(data, 'code', 'Type the code that stands under the square on your card.');
    if (code.length !== CODE_LENGTH) return refuseField(data, 'code', `A code has ${CODE_LENGTH} signs; this one has ${code.length}. Look at your card again.`);
    const answer = await tryRead(event, `/api/join/${code}`, JoinTarget);
    if (answer.ok) redirect(303, `/join/${code}`);
    if (answer.problem.status === 404)
      return refuseField(data, 'code', `There is no class or station with the code ${code}. Compare it with your card, sign by sign.`);
    return refuse(answer, data);
  },
};
