import { error, redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { CabinetScales, Empty, ScaleCheckOut } from '@ashwater/contracts';
import type { CabinetScaleOut } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

async function scaleAt(event: RequestEvent): Promise<CabinetScaleOut> {
  const { scales } = await read(event, '/api/scales', CabinetScales);
  const found = scales.find(({ id }) => id === event.params['id']);
  return found ?? error(404, 'Not found', { detail: 'No scale with this address was found in this studio.' });
}

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  return { checkId: newId(), retireId: newId(), scale: await scaleAt(event), saved: event.url.searchParams.get('saved') };
};

export const actions: Actions = {
  check: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, known: text(data, 'known'), knownLimit: text(data, 'knownLimit'), shown: text(data, 'shown') };
    const answer = await write(event, `/api/scales/${encodeURIComponent(event.params.id)}/checks`, body, ScaleCheckOut, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, `/studio/cabinet/scales/${event.params.id}?saved=check`);
  },
  retire: async (event) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/scales/${encodeURIComponent(event.params.id)}/retire`, {}, Empty, { key: formId(data) });
    if (!answer.ok && answer.problem.code !== 'nothing-to-change') return refuse(answer, data);
    redirect(303, `/studio/cabinet/scales/${event.params.id}`);
  },
};
