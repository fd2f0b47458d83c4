// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';

/** Text as a CSV file to be saved. */
export const csvResponse = (csv: string, filename: string, headers: Record<string, string> = {}): Response =>
  new Response(BYTE_ORDER_MARK + csv, {
    headers: { 'content-type': 'text/csv; charset=utf-8; header=present', 'content-disposition': `attachment; filename="${filename}"`, ...headers },
  });
