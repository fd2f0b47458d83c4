import { newId } from '#lib/id.ts';
import { stationView } from '#lib/server/station.ts';
import { SEEN_COOKIE, unread } from '#lib/station/seen.ts';
import type { LayoutServerLoad } from './$types';

export const load: LayoutServerLoad = async (event) => {
  // Reading the path makes this run for every station page: a partner may have done the step meanwhile.
  const path = event.url.pathname;
  const view = await stationView(event);
  return { view, messages: unread(view.messages ?? [], event.cookies.get(SEEN_COOKIE)), stopId: newId(), path };
};
