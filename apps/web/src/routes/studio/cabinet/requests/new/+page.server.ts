import { redirect } from '@sveltejs/kit';
import { Cabinet, Created, Ledger } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, refuseField, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

const KINDS = ['write-off', 'disposal', 'reversal', 'correction'] as const;

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const wanted = event.url.searchParams;
  const kind = KINDS.find((each) => each === wanted.get('kind')) ?? (wanted.has('seq') ? 'reversal' : 'write-off');
  const [{ lots }, { choices }] = await Promise.all([read(event, '/api/cabinet', Cabinet), read(event, '/api/ledger?limit=1', Ledger)]);
  const containers = lots.flatMap((lot) => lot.containers.map((each) => ({ id: each.id, label: each.label, lotId: lot.id })));
  return {
    id: newId(),
    kind,
    containers,
    lots: choices.lots,
    classes: choices.classes,
    container: wanted.get('container') ?? '',
    seq: wanted.get('seq') ?? '',
    mass: wanted.get('mass') ?? '',
    count: wanted.get('count') ?? '',
    direction: wanted.get('direction') === 'found' ? 'found' : 'missing',
  };
};

/** "container:<id>" of the form as the API's place. */
const placeOf = (typed: string) => {
  const [sort = '', id] = typed.split(':');
  return { sort, id: id ?? null };
};

export const actions: Actions = {
  default: async (event) => {
    requireKeeper(event.locals);
    const data = await event.request.formData();
    const id = formId(data);
    const kind = KINDS.find((each) => each === text(data, 'kind'));
    if (!kind) return refuseField(data, 'kind', 'Choose what is asked for.');
    const [mass, reason, containerId] = [text(data, 'mass'), text(data, 'reason'), text(data, 'containerId')];
    const about = text(data, 'aboutSeq').trim();
    // What is no number goes as it was typed, so that it is refused at its field.
    const aboutSeq = about === '' ? null : /^\d+$/.test(about) ? Number(about) : about;
    const bodies = {
      reversal: { id, seq: text(data, 'seq'), reason },
      disposal: { id, containerId, mass, reason },
      'write-off': { id, containerId, direction: text(data, 'direction') || 'missing', mass, reason, countId: text(data, 'countId') || null },
      correction: { id, lotId: text(data, 'lotId'), from: placeOf(text(data, 'from/id')), to: placeOf(text(data, 'to/id')), mass, reason, aboutSeq },
    };
    const answer = await write(event, `/api/stock-requests/${kind}`, bodies[kind], Created, { key: id });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/cabinet/requests?asked=1');
  },
};
