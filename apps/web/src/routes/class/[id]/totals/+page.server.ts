import { classTotals } from '#lib/components/class/totals.server.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({ ...(await classTotals(event, event.params.id)), printedAt: new Date().toISOString() });
