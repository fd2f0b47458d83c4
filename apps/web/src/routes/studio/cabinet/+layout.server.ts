import { isKeeper } from '#lib/server/keepers.ts';
import type { LayoutServerLoad } from './$types';

export const load: LayoutServerLoad = ({ locals }) => ({ keeper: isKeeper(locals) });
