import { FloorView } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({ floor: await read(event, `/api/classes/${event.params.id}/floor`, FloorView) });
