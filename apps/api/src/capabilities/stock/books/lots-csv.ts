import type { FieldFault, ReceiveLot } from '@ashwater/contracts';
import { parse } from 'csv-parse/sync';

/**
 * The columns of a delivery file, in their order. Masses in grams, days as yyyy-mm-dd, price and freight of the whole lot in the studio's currency; a
 * row for each container. `scale` is the name of a scale of the studio; where it is blank the step stands.
 */
export const COLUMNS = [
  'substance',
  'supplier',
  'lot',
  'purity percent',
  'purity give or take percent',
  'assay is',
  'carbonate percent',
  'water percent',
  'safety data sheet',
  'sheet revised on',
  'product',
  'grade',
  'best before',
  'price',
  'freight',
  'lead days',
  'scale',
  'scale step g',
  'container',
  'gross g',
  'tare g',
] as const;
type Column = (typeof COLUMNS)[number];
export type Row = Record<Column, string> & { row: number };

/** The farthest a file may go: a delivery, not an archive. */
const MOST_ROWS = 2000;

export type ReadRows = { rows: Row[]; faults: FieldFault[] };
const fault = (row: number, column: string, detail: string): FieldFault => ({ pointer: '/csv', detail: `Row ${row}, column “${column}”: ${detail}` });

/**
 * Reads a delivery file (RFC 4180; comma or semicolon; a byte order mark is fine). The columns may stand in any order. The
 * apostrophe that the export puts before a text which a spreadsheet would run is taken off again. Row numbers count the heading.
 */
export function readRows(csv: string): ReadRows {
  const delimiter = (csv.split(/\r?\n/, 1)[0] ?? '').includes(';') ? ';' : ',';
  let cells: string[][];
  try {
    cells = parse(csv, { bom: true, delimiter, relax_column_count: true, skip_empty_lines: true, trim: true }) as string[][];
  } catch (error) {
    return {
      rows: [],
      faults: [{ pointer: '/csv', detail: `This is not readable as CSV: ${(error as Error).message}. Save it again as CSV with a comma between columns.` }],
    };
  }
  const [heading = [], ...body] = cells;
  const names = heading.map((name) => name.toLowerCase());
  const missing = COLUMNS.filter((column) => !names.includes(column));
  const strange = names.filter((name) => !(COLUMNS as readonly string[]).includes(name));
  const faults: FieldFault[] = [
    ...missing.map((column) => fault(1, column, 'is missing. Download the file of your own deliveries to see all columns.')),
    ...strange.map((name) => fault(1, name, 'is not a column of a delivery. Take it out, so that nothing is left unread.')),
    ...names.filter((name, i) => names.indexOf(name) < i).map((name) => fault(1, name, 'stands here twice.')),
  ];
  if (body.length === 0 && faults.length === 0) faults.push({ pointer: '/csv', detail: 'There is a heading and nothing below it.' });
  if (body.length > MOST_ROWS) faults.push({ pointer: '/csv', detail: `${body.length} rows are too many at once; at most ${MOST_ROWS}.` });
  body.forEach((cell, i) => {
    if (cell.length !== names.length) faults.push(fault(i + 2, names.at(-1) ?? '', `the row has ${cell.length} columns, the heading ${names.length}.`));
  });
  if (faults.length > 0) return { rows: [], faults };
  const text = (cell: string) => (/^'[=+\-@\t\r]/.test(cell) ? cell.slice(1) : cell);
  return {
    rows: body.map((cell, i) => ({ ...(Object.fromEntries(names.map((name, n) => [name, text(cell[n]!)])) as Record<Column, string>), row: i + 2 })),
    faults,
  };
}

/** Which field of a delivery a column fills. */
const FIELD: Record<string, Column> = {
  '/substance': 'substance',
  '/supplier': 'supplier',
  '/lotNumber': 'lot',
  '/purityPercent': 'purity percent',
  '/purityUncertaintyPercent': 'purity give or take percent',
  '/assayIs': 'assay is',
  '/carbonatePercent': 'carbonate percent',
  '/waterPercent': 'water percent',
  '/sdsLink': 'safety data sheet',
  '/sdsRevisedOn': 'sheet revised on',
  '/product': 'product',
  '/grade': 'grade',
  '/bestBefore': 'best before',
  '/price': 'price',
  '/freight': 'freight',
  '/leadDays': 'lead days',
  '/scaleId': 'scale',
  '/scaleStep': 'scale step g',
};
const CONTAINER_FIELD: Record<string, Column> = { label: 'container', gross: 'gross g', tare: 'tare g' };

/** A fault of a delivery's field as the row and column it came from. */
export function faultInFile(rows: readonly Row[], { pointer, detail }: FieldFault): FieldFault {
  const inContainer = /^\/containers\/(\d+)\/(\w+)/.exec(pointer);
  if (inContainer) return fault(rows[Number(inContainer[1])]?.row ?? 0, CONTAINER_FIELD[inContainer[2]!] ?? inContainer[2]!, detail);
  return fault(rows[0]!.row, FIELD[pointer] ?? pointer.slice(1), detail);
}

const OF_LOT = COLUMNS.filter((column) => !['container', 'gross g', 'tare g'].includes(column));

/** Rows of one lot together, in the file's order. Rows of a lot that contradict each other are faults. */
export function lotsOf(rows: readonly Row[]): { lots: Row[][]; faults: FieldFault[] } {
  const lots = [...Map.groupBy(rows, (row) => JSON.stringify([row.substance, row.supplier, row.lot])).values()];
  const faults = lots.flatMap((lot) =>
    lot.flatMap((row) =>
      OF_LOT.filter((column) => row[column] !== lot[0]![column]).map((column) =>
        fault(row.row, column, `says “${row[column]}”, row ${lot[0]!.row} of the same lot “${lot[0]![column]}”.`),
      ),
    ),
  );
  return { lots, faults };
}

/** A lot's rows as the delivery they stand for. `scaleId` is of the scale that they name; without one the step stands. */
export function deliveryOf(rows: readonly Row[], newId: () => string, scaleId: string | undefined): ReceiveLot {
  const [first] = rows as [Row];
  const optional = (text: string) => (text === '' ? {} : { text });
  const carbonate = optional(first['carbonate percent']).text;
  const water = optional(first['water percent']).text;
  return {
    id: newId(),
    substance: first.substance as ReceiveLot['substance'],
    supplier: first.supplier,
    lotNumber: first.lot,
    purityPercent: first['purity percent'],
    purityUncertaintyPercent: first['purity give or take percent'],
    ...(first['assay is'] === '' ? {} : { assayIs: first['assay is'] as ReceiveLot['assayIs'] }),
    ...(carbonate === undefined ? {} : { carbonatePercent: carbonate }),
    ...(water === undefined ? {} : { waterPercent: water }),
    sdsLink: first['safety data sheet'],
    sdsRevisedOn: first['sheet revised on'] === '' ? null : first['sheet revised on'],
    product: first.product,
    grade: first.grade,
    bestBefore: first['best before'] === '' ? null : first['best before'],
    price: first.price,
    freight: first.freight,
    leadDays: first['lead days'],
    ...(scaleId === undefined ? { scaleStep: first['scale step g'] } : { scaleId }),
    containers: rows.map((row) => ({ id: newId(), label: row.container, gross: row['gross g'], tare: row['tare g'] })),
  };
}
