import { newId } from '#lib/id.ts';
import { stationView } from '#lib/server/station.ts';
import type { LayoutServerLoad } from './$types';

export const load: LayoutServerLoad = async (event) => {
  // Reading the path makes this run for every station page: a partner may have done the step meanwhile.
  const path = event.url.pathname;
  return { view: await stationView(event), stopId: newId(), path };
};
