import type { RequestEvent } from '@sveltejs/kit';
import { ClassOut, SPARE_DEFAULT_PERCENT } from '@ashwater/contracts';
import { parseDecimal } from '@ashwater/formulation/quantity';
import { read } from '../../server/api.ts';

/** The class with its totals, for the spare in the address; a spare that cannot be read is said and the usual one taken. */
export async function classTotals(event: RequestEvent, id: string) {
  const typed = event.url.searchParams.get('spare') ?? String(SPARE_DEFAULT_PERCENT);
  const spare = parseDecimal(typed.trim().replace(/\s*%$/, ''), { name: 'The spare', min: 0, max: 100, maxDecimals: 1 });
  const percent = spare.ok ? spare.value.value : SPARE_DEFAULT_PERCENT;
  const room = await read(event, `/api/classes/${id}?spare=${percent}`, ClassOut);
  return { room, typed, percent, fault: spare.ok ? null : (spare.problems[0]?.detail ?? 'The spare could not be read.') };
}
