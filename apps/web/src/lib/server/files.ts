import { Created, MOST_FILE_BYTES } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { write } from './api.ts';
import type { Caller } from './api.ts';

const TOO_LARGE = 'The file is larger than 5 MB. Ask the supplier for a smaller one, or give its web address.';

/**
 * Keeps the file of a form's field at once, because a file cannot wait on a page for a second look as typed text can: its id and
 * name go into the form beside it ("sdsFile" fills "sdsFileId" and "sdsFileName").
 * @returns what is wrong with it, or null; null too where no file was chosen
 */
export async function keepChosen(event: Caller, data: FormData, field: string): Promise<string | null> {
  const chosen = data.get(field);
  if (!(chosen instanceof File) || chosen.size === 0) return null;
  if (chosen.size > MOST_FILE_BYTES) return TOO_LARGE;
  const id = newId();
  const name = chosen.name.slice(-80);
  const base64 = Buffer.from(await chosen.arrayBuffer()).toString('base64');
  const kept = await write(event, '/api/stock-files', { id, name, base64 }, Created, { key: id });
  if (!kept.ok) return kept.problem.errors?.[0]?.detail ?? kept.problem.detail;
  data.set(`${field}Id`, id);
  data.set(`${field}Name`, name);
  return null;
}
