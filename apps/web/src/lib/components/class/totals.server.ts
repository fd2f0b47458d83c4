import type { RequestEvent } from '@sveltejs/kit';
import { ClassOut } from '@ashwater/contracts';
import { parseDecimal } from '@ashwater/formulation/quantity';
import { read } from '../../server/api.ts';

/** The class with its totals, for the spare in the address, else its own; one that cannot be read is said and its own taken. */
export async function classTotals(event: RequestEvent, id: string) {
  const asked = event.url.searchParams.get('spare');
  const spare = asked === null ? null : parseDecimal(asked.trim().replace(/\s*%$/, ''), { name: 'The spare', min: 0, max: 100, maxDecimals: 1 });
  const room = await read(event, `/api/classes/${id}${spare?.ok ? `?spare=${spare.value.value}` : ''}`, ClassOut);
  const percent = spare?.ok ? spare.value.value : room.sparePercent;
  const fault = spare === null || spare.ok ? null : (spare.problems[0]?.detail ?? 'The spare could not be read.');
  return { room, typed: asked ?? String(room.sparePercent), percent, fault };
}
