import type { ExportNotes } from '@ashwater/contracts';
import { csv } from '../../../csv.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { exportRows } from './store.ts';

const COLUMNS = [
  'number',
  'kind',
  'signing',
  'day',
  'when',
  'where',
  'step',
  'harm',
  'what happened',
  'how',
  'what stopped it',
  'done at once',
  'class',
  'told by',
  'actual harm',
  'potential harm',
  'category',
  'causes',
  'told with',
  'learned',
  'changed',
];

/**
 * Notes of a span of days as CSV (RFC 4180), for an insurer or an authority: a help in writing their report, never the report itself. A name stands in it
 * only where it was asked for and the note carries one openly; who told in confidence never does. Every export is in the audit.
 */
export async function exportNotes(context: StaffContext, { fromDay, toDay, names }: ExportNotes): Promise<{ csv: string }> {
  const rows = await exportRows(context.tx, context.studio.id, fromDay, toDay);
  await audit(context, names ? 'exported notes with names' : 'exported notes', `studio:${context.studio.id}`, { from: fromDay, to: toDay, notes: rows.length });
  const lines = rows.map((row) => [
    row.number,
    row.kind,
    row.signing,
    row.happenedOn,
    row.whenWords,
    row.place,
    row.stepTitle,
    row.harms.join(', '),
    row.what,
    row.how,
    row.whatStoppedIt,
    row.doneAtOnce,
    row.classTitle ?? '',
    names ? (row.byName ?? '') : '',
    row.actual ?? '',
    row.potential ?? '',
    row.category ?? '',
    (row.causes ?? []).join(', '),
    row.toldWith ?? '',
    row.learned ?? '',
    row.changed ?? '',
  ]);
  return { csv: csv([COLUMNS, ...lines]) };
}
