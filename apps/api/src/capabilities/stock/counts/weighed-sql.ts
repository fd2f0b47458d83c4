/*
 * What was on the scale for a ledger line: full at receipt, put over, handed out, taken back, grown heavier. A container that went out
 * whole was on the scale itself, with its load. What was corrected, reversed or written off was not weighed.
 */

/** For a query over `move m` with the container's gross_mg beside the line's columns. */
export const WEIGHING_OF_MOVE = `
  LEFT JOIN checkout k ON k.studio_id = m.studio_id AND k.id = m.subject_id AND m.kind IN ('checkout', 'return')
  LEFT JOIN checkout_return r ON r.studio_id = k.studio_id AND r.checkout_id = k.id AND m.kind = 'return'`;

/** In mg; NULL where nothing was weighed. */
export const WEIGHED_MG = `CASE
  WHEN m.kind = 'receipt' THEN m.gross_mg
  WHEN m.kind = 'checkout' AND k.whole THEN k.gross_mg
  WHEN m.kind = 'return' AND k.whole THEN r.gross_mg
  WHEN m.kind IN ('transfer', 'checkout', 'return', 'uptake') THEN m.mass_mg END`;
