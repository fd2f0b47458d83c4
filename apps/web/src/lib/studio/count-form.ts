import type { FieldFault } from '@ashwater/contracts';

export type CountLine = { containerId: string; gross: string; first: string; row: number };

/**
 * The lines of a count that were weighed. A blank field is a container that was not weighed, never one of 0 g.
 * `row` is its place on the sheet, where its field is.
 */
export function weighedLines(values: Record<string, string>): CountLine[] {
  const rows = Math.min(Number(values['rows']) || 0, 200);
  return Array.from({ length: rows }, (_, row) => ({
    containerId: values[`lines/${row}/containerId`] ?? '',
    gross: (values[`lines/${row}/gross`] ?? '').trim(),
    first: (values[`lines/${row}/first`] ?? '').trim(),
    row,
  })).filter(({ containerId, gross }) => containerId !== '' && gross !== '');
}

/** Turns the API's faults, which count the weighed lines only, into faults of the sheet's fields. */
export function faultsOnSheet(faults: readonly FieldFault[], lines: readonly CountLine[]): FieldFault[] {
  return faults.map((fault) => {
    const index = /^\/lines\/(\d+)\//.exec(fault.pointer)?.[1];
    const line = index === undefined ? undefined : lines[Number(index)];
    return line ? { ...fault, pointer: `/lines/${line.row}/gross` } : fault;
  });
}

/** What the form shows when some containers are weighed once more: the first figure kept beside them, their field blank again. */
export function againOnSheet(values: Record<string, string>, faults: readonly FieldFault[]): Record<string, string> {
  const next = { ...values };
  for (const { pointer } of faults) {
    const row = /^\/lines\/(\d+)\/gross$/.exec(pointer)?.[1];
    if (row === undefined) continue;
    next[`lines/${row}/first`] = values[`lines/${row}/gross`] ?? '';
    next[`lines/${row}/gross`] = '';
  }
  return next;
}
