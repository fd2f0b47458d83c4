import { redirect } from '@sveltejs/kit';
import { nextPath } from '#lib/station/view.ts';
import { labelOfJar } from '#lib/server/jars.ts';
import { qrCode } from '#lib/server/qr.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async ({ parent, url }) => {
  const { view } = await parent();
  if (!view.jar) redirect(303, '/station');
  return {
    jar: view.jar,
    ...labelOfJar(view.jar),
    next: nextPath(view),
    qr: qrCode(`${url.origin}/studio/jars?number=${encodeURIComponent(view.jar.number)}`),
  };
};
