import { NotePlace } from '@ashwater/contracts';
import { tidyCode } from '#lib/join-code.ts';
import { read } from '#lib/server/api.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const code = tidyCode(event.params.code);
  const { emergencyPhone } = await read(event, `/api/note-place/${encodeURIComponent(code)}`, NotePlace);
  return { code, phone: emergencyPhone };
};
