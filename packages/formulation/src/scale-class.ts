/**
 * Limits of error that the rules of trade allow a scale, by its accuracy class and its verification
 * interval e. The interval e stands on the plate of a verified scale and can be up to ten times the
 * step d that it shows.
 *
 * OIML R 76-1:2006, Table 6, at verification: 0.5 e, 1 e and 1.5 e up to three loads counted in e (read
 * in a reprint of the table); in service twice these (3.5.2, read). NIST Handbook 44, Scales, Table 6,
 * class III: 1, 2, 3 and 5 e in maintenance, half of that at acceptance (the rows of 3 and 5 were read
 * in worked cases, those of 1 and 2 are from memory).
 */
export type AccuracyClass = 'I' | 'II' | 'III' | 'IIII' | 'HB 44 III';

/** Rows of a table: up to this load, counted in e, the limit at verification is this many e. */
type Row = { upTo: number; limit: number };

function oimlRows(first: number, second: number, third: number): Row[] {
  return [
    { upTo: first, limit: 0.5 },
    { upTo: second, limit: 1 },
    { upTo: third, limit: 1.5 },
  ];
}

const ROWS: Record<AccuracyClass, Row[]> = {
  I: oimlRows(50_000, 200_000, Infinity),
  II: oimlRows(5000, 20_000, 100_000),
  III: oimlRows(500, 2000, 10_000),
  IIII: oimlRows(50, 200, 1000),
  'HB 44 III': [...oimlRows(500, 2000, 4000), { upTo: 10_000, limit: 2.5 }],
};

export const ACCURACY_CLASSES = Object.keys(ROWS) as AccuracyClass[];

/**
 * Limit of error at verification (OIML) or acceptance (Handbook 44), mg; e and the load in mg. Past
 * the last row the class ends: the limit then grows in proportion to the load, our extension. Of what is
 * no interval or no load nothing is known: no limit, Infinity.
 */
export function verificationLimitMg(accuracyClass: AccuracyClass, verificationIntervalMg: number, massMg: number): number {
  if (!Number.isFinite(massMg) || !Number.isFinite(verificationIntervalMg) || verificationIntervalMg <= 0) return Infinity;
  const load = Math.abs(massMg) / verificationIntervalMg;
  const rows = ROWS[accuracyClass];
  const row = rows.find((each) => load <= each.upTo);
  if (row) return row.limit * verificationIntervalMg;
  const last = rows.at(-1) ?? { upTo: 1, limit: 1 };
  return (last.limit * verificationIntervalMg * load) / last.upTo;
}

/** Limit of error in service (OIML) or maintenance (Handbook 44), mg: twice the limit when new. */
export function inServiceLimitMg(accuracyClass: AccuracyClass, verificationIntervalMg: number, massMg: number): number {
  return 2 * verificationLimitMg(accuracyClass, verificationIntervalMg, massMg);
}
