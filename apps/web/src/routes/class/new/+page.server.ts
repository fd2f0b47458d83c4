import { benchChoice } from '#lib/components/class/class-form.ts';
import { saveClass } from '#lib/components/class/class-actions.server.ts';
import { classChoices } from '#lib/components/class/class-choices.server.ts';
import { newId } from '#lib/id.ts';
import { wallOf } from '#lib/zone.ts';
import type { Actions, PageServerLoad } from './$types';

const DAY_MS = 86_400_000;

export const load: PageServerLoad = async (event) => {
  const zone = event.locals.staff?.studio.timeZone ?? 'UTC';
  const { stations, ...choices } = await classChoices(event, zone);
  const asked = event.url.searchParams.get('recipeVersionId');
  const recipeVersionId =
    choices.versions.find((version) => version.value === asked)?.value ?? (choices.versions.length === 1 ? choices.versions[0]?.value : undefined) ?? '';
  // Tomorrow at ten: a start that can be changed is quicker than a blank.
  const startsAt = `${wallOf(new Date(Date.now() + DAY_MS).toISOString(), zone).slice(0, 10)}T10:00`;
  const only = (lots: { value: string }[]) => (lots.length === 2 ? (lots[1]?.value ?? '') : '');
  return {
    id: newId(),
    ...choices,
    benches: stations.map((bench) => benchChoice(bench, { id: newId(), stationId: bench.id }, true)),
    start: { title: '', startsAt, room: '', recipeVersionId, naohLotId: only(choices.naoh), kohLotId: only(choices.koh) },
  };
};

export const actions: Actions = { default: (event) => saveClass(event, null) };
