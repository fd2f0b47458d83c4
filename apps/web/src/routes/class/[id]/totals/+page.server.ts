import { classTotals } from '#lib/components/class/totals.server.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = (event) => classTotals(event, event.params.id);
