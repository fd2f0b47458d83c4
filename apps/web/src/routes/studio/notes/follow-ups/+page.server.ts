import { FollowUps } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read } from '#lib/server/api.ts';
import { followUpActions } from '#lib/server/follow-up-actions.ts';
import { isKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => ({ id: newId(), keeper: isKeeper(event.locals), ...(await read(event, '/api/follow-ups', FollowUps)) });
export const actions: Actions = { act: followUpActions.act };
