import { NotesFile } from '@ashwater/contracts';
import { write, showProblem } from '#lib/server/api.ts';
import { formId, text } from '#lib/server/forms.ts';
import { csvResponse } from '#lib/server/csv-response.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { RequestHandler } from './$types';

// By POST, because every export stands in the audit.
export const POST: RequestHandler = async (event) => {
  requireKeeper(event.locals);
  const data = await event.request.formData();
  const body = { fromDay: text(data, 'fromDay'), toDay: text(data, 'toDay'), names: data.get('names') !== null };
  const answer = await write(event, '/api/note-export', body, NotesFile, { key: formId(data) });
  if (!answer.ok) showProblem(answer.problem);
  return csvResponse(answer.value.csv, 'notes.csv', { 'cache-control': 'private, no-store' });
};
