/** A delivery's form as typed. Names are JSON pointers: "containers/0/gross". `rows` counts the container lines. */
export type LotValues = Record<string, string>;

export const PARTS = ['id', 'label', 'gross', 'tare'] as const;
/** In the order of the form. */
export const LOT_FIELDS = [
  'substance',
  'supplier',
  'product',
  'grade',
  'lotNumber',
  'bestBefore',
  'purityPercent',
  'purityUncertaintyPercent',
  'assayIs',
  'carbonatePercent',
  'waterPercent',
  'certificateLink',
  'certificateFileId',
  'sdsLink',
  'sdsFileId',
  'sdsRevisedOn',
  'scaleId',
  'scaleStep',
  'price',
  'freight',
  'leadDays',
  'papersDisagree',
] as const;
/** Fields whose blank is "none". */
const NONE_WHEN_BLANK = ['bestBefore', 'certificateFileId', 'sdsFileId', 'sdsRevisedOn', 'scaleId'] as const;
export const MOST_ROWS = 40;

const at = (values: LotValues, name: string): string => values[name] ?? '';

/** How many container lines the form shows, from 1 to 40 whatever was sent. */
export function rowCount(values: LotValues): number {
  const rows = Number(at(values, 'rows'));
  return Number.isInteger(rows) ? Math.min(Math.max(rows, 1), MOST_ROWS) : 1;
}

/** "A-1" gives "A-2"; a label without a number at its end gives nothing to go on with. */
export function nextLabel(label: string): string {
  const match = /^(.*?)(\d{1,6})$/.exec(label.trim());
  if (!match) return '';
  const [, front = '', number = ''] = match;
  return `${front}${String(Number(number) + 1).padStart(number.length, '0')}`;
}

/** The same form with one more line; `id` becomes the new container's. */
export function withLine(values: LotValues, id: string): LotValues {
  const rows = rowCount(values);
  if (rows === MOST_ROWS) return values;
  return {
    ...values,
    rows: String(rows + 1),
    [`containers/${rows}/id`]: id,
    [`containers/${rows}/label`]: nextLabel(at(values, `containers/${rows - 1}/label`)),
  };
}

/** The same form without line `index`; the lines below move up. The last one left stays. */
export function withoutLine(values: LotValues, index: number): LotValues {
  const rows = rowCount(values);
  if (rows === 1 || !Number.isInteger(index) || index < 0 || index >= rows) return values;
  const kept = Object.fromEntries(Object.entries(values).filter(([name]) => !name.startsWith('containers/')));
  const lines = Array.from({ length: rows }, (_, line) => line).filter((line) => line !== index);
  for (const [to, from] of lines.entries()) for (const part of PARTS) kept[`containers/${to}/${part}`] = at(values, `containers/${from}/${part}`);
  return { ...kept, rows: String(rows - 1) };
}

/** The request body of a delivery; a blank date, file or scale is none. */
export function lotBody(values: LotValues, id: string) {
  const fields = Object.fromEntries(LOT_FIELDS.map((name) => [name, at(values, name)]));
  const containers = Array.from({ length: rowCount(values) }, (_, line) =>
    Object.fromEntries(PARTS.map((part) => [part, at(values, `containers/${line}/${part}`)])),
  );
  const none = Object.fromEntries(NONE_WHEN_BLANK.map((name) => [name, at(values, name) || null]));
  return { ...fields, assayIs: at(values, 'assayIs') || 'hydroxide', id, ...none, containers };
}

/** What a certificate's figure counts, as people say it. */
export const ASSAY_WORDS = { hydroxide: 'hydroxide', 'total alkali': 'total alkali, stated as hydroxide' } as const;

/** "97.7 to 99.5 %": to a tenth, outward. */
export const hydroxideWords = ({ low, high }: { low: number; high: number }): string =>
  `${Math.floor(low * 10 + 1e-6) / 10} to ${Math.ceil(high * 10 - 1e-6) / 10} %`;
