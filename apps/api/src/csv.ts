export type Cell = string | number;

// What a spreadsheet takes for a formula when a cell begins with it: OWASP ASVS 5.0, 1.2.10, and CR of OWASP's page on CSV injection.
const STARTS_FORMULA = /^[=+\-@\t\r\0]/;
const NEEDS_QUOTES = /[",\r\n]/;

function field(cell: Cell): string {
  // A number stays a number: it cannot hold a formula, and "-5" must not become text.
  if (typeof cell === 'number') return String(cell);
  const safe = STARTS_FORMULA.test(cell) ? `'${cell}` : cell;
  return NEEDS_QUOTES.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Rows as CSV (RFC 4180): comma, CRLF, quotes where needed. Text that a spreadsheet would run gets an apostrophe in front. */
export const csv = (rows: readonly (readonly Cell[])[]): string => rows.map((row) => `${row.map(field).join(',')}\r\n`).join('');
