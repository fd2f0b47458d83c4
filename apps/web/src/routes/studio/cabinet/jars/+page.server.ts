import { Jars } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { jars } = await read(event, '/api/jars', Jars);
  const asked = event.url.searchParams.get('number');
  const discarded = event.url.searchParams.get('discarded');
  const inThreeDays = new Date(Date.now() + 3 * 86_400_000).toISOString().slice(0, 10);
  return {
    jars,
    soonDay: inThreeDays,
    asked: asked === null ? null : { number: asked, jar: jars.find(({ number }) => number === asked) ?? null },
    discarded: jars.find(({ id }) => id === discarded) ?? null,
  };
};
