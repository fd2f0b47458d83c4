import { redirect } from '@sveltejs/kit';
import { StationView } from '@ashwater/contracts';
import { showProblem, tryRead } from './api.ts';
import type { Caller, Written } from './api.ts';
import { refuse } from './forms.ts';

/** Where somebody comes whose seat is no longer theirs: it says so, and how to join again. */
export const LEFT = '/join?left';

/** What the API knows of this seat's station now. A seat that is no longer valid joins again. */
export async function stationView(event: Caller): Promise<StationView> {
  const answer = await tryRead(event, '/api/station', StationView);
  if (answer.ok) return answer.value;
  if (answer.problem.status === 401 || answer.problem.code === 'seat-signed-out') redirect(303, LEFT);
  return showProblem(answer.problem);
}

/**
 * A refused act at a station. What only says "things moved on meanwhile" leads to the page that shows how things stand;
 * the rest is shown beside the form.
 */
export function stationRefusal(answer: Extract<Written<unknown>, { ok: false }>, data: FormData) {
  const { code, status } = answer.problem;
  if (status === 401 || code === 'seat-signed-out') redirect(303, LEFT);
  if (code === 'room-stopped' || code === 'gear-not-signed' || code === 'class-not-open' || code === 'card-voided') redirect(303, '/station');
  if (code === 'step-out-of-order' || code === 'reading-superseded') redirect(303, '/station/step');
  return refuse(answer, data);
}
