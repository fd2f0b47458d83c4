import { NotesFile } from '@ashwater/contracts';
import { write, showProblem } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { RequestHandler } from './$types';

// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';

// By POST, because every export stands in the audit.
export const POST: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const data = await event.request.formData();
  const body = { fromDay: text(data, 'fromDay'), toDay: text(data, 'toDay'), names: data.get('names') !== null };
  const answer = await write(event, '/api/note-export', body, NotesFile, { key: formId(data) });
  if (!answer.ok) showProblem(answer.problem);
  return new Response(BYTE_ORDER_MARK + answer.value.csv, {
    headers: {
      'content-type': 'text/csv; charset=utf-8; header=present',
      'content-disposition': 'attachment; filename="notes.csv"',
      'cache-control': 'private, no-store',
    },
  });
};
