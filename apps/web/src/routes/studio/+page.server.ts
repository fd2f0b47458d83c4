import { CheckOuts, Classes, ClassOut, FloorView, Jars, Notes, Recipes, Stations } from '@ashwater/contracts';
import { isOver, wasNotClosed } from '#lib/components/class/class-words.ts';
import { mayPlan } from '#lib/components/class/roles.ts';
import { read } from '#lib/server/api.ts';
import type { Caller } from '#lib/server/api.ts';
import { isKeeper } from '#lib/server/keepers.ts';
import type { PageServerLoad } from './$types';

/** How many of the next drafts are looked into for stations without a safe card. */
const LOOKED_INTO = 3;

/** What waits at the cabinet, for those who answer for it. */
async function cabinetOf(event: Caller) {
  const [{ checkouts }, { jars }, { notes }] = await Promise.all([
    read(event, '/api/checkouts', CheckOuts),
    read(event, '/api/jars', Jars),
    read(event, '/api/notes', Notes),
  ]);
  return {
    out: checkouts.filter(({ returnedMg }) => returnedMg === null).map(({ id, containerLabel, classTitle }) => ({ id, containerLabel, classTitle })),
    overdueJars: jars.filter(({ state }) => state === 'past its discard date').map(({ number }) => number),
    unreviewed: notes.filter(({ reviewed }) => !reviewed).length,
  };
}

export const load: PageServerLoad = async (event) => {
  const [{ classes }, { recipes }, { stations }] = await Promise.all([
    read(event, '/api/classes', Classes),
    read(event, '/api/recipes', Recipes),
    read(event, '/api/stations', Stations),
  ]);
  const now = Date.now();
  const upcoming = classes.filter((item) => !isOver(item, now)).reverse();
  const next = upcoming[0];
  const drafts = upcoming.filter((item) => item.status === 'draft').slice(0, LOOKED_INTO);
  const rooms = await Promise.all(drafts.map((item) => read(event, `/api/classes/${item.id}`, ClassOut)));
  const floor = next?.status === 'published' ? await read(event, `/api/classes/${next.id}/floor`, FloorView) : null;
  return {
    next: next ?? null,
    stopped: floor?.stopped ?? null,
    unsafe: rooms
      .map((room) => ({ id: room.id, title: room.title, names: room.readiness.filter((item) => !item.safe).map((item) => item.name) }))
      .filter((room) => room.names.length > 0),
    notClosed: classes.filter((item) => wasNotClosed(item, now)).map(({ id, title }) => ({ id, title })),
    unpublished: recipes.filter((recipe) => recipe.versions.length === 0).map(({ id, title }) => ({ id, title })),
    has: {
      stations: stations.length > 0,
      version: recipes.some((recipe) => recipe.versions.length > 0),
      recipe: recipes.length > 0,
      class: classes.length > 0,
    },
    cabinet: isKeeper(event.locals) ? await cabinetOf(event) : null,
    mayPlan: mayPlan(event.locals.staff?.role),
  };
};
