import { Classes } from '@ashwater/contracts';
import { isOver, wasNotClosed } from '#lib/components/class/class-words.ts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { classes } = await read(event, '/api/classes', Classes);
  const now = Date.now();
  const items = classes.map((item) => ({ ...item, notClosed: wasNotClosed(item, now) }));
  // The API lists the newest first; what comes next belongs on top.
  return {
    upcoming: items.filter((item) => !isOver(item, now)).reverse(),
    past: items.filter((item) => isOver(item, now)),
    mayPlan: mayPlan(event.locals.staff?.role),
  };
};
