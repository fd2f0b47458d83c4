import { LABEL_SHEETS, LotDetail } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({
  lot: await read(event, `/api/lots/${encodeURIComponent(event.params.id)}`, LotDetail),
  labelSheets: Object.entries(LABEL_SHEETS).map(([key, sheet]) => ({ key, ...sheet })),
});
