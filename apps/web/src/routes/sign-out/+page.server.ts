import { redirect } from '@sveltejs/kit';
import { Empty } from '@ashwater/contracts';
import { showProblem, write } from '#lib/server/api.ts';
import type { Actions } from './$types';

export const actions: Actions = {
  default: async (event) => {
    const answer = await write(event, '/api/sign-out', {}, Empty, { key: crypto.randomUUID() });
    // Signed out already is what was wanted.
    if (!answer.ok && answer.problem.status !== 401) showProblem(answer.problem);
    redirect(303, '/sign-in');
  },
};
