import { error } from '@sveltejs/kit';
import { jarById, labelOfJar } from '#lib/server/jars.ts';
import { qrCode } from '#lib/server/qr.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const jar = await jarById(event, event.params.id);
  const studio = event.locals.staff?.studio ?? error(401, 'Sign in first');
  return { jar, studio, ...labelOfJar(jar), qr: qrCode(`${event.url.origin}/studio/jars?number=${encodeURIComponent(jar.number)}`) };
};
