import { Recipes } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { mayPlan } from '#lib/components/class/roles.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({ ...(await read(event, '/api/recipes', Recipes)), mayPlan: mayPlan(event.locals.staff?.role) });
