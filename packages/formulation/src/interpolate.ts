/** Points of a published table, x rising. */
export type Table = readonly (readonly [x: number, y: number])[];

/** Straight line between the two points around x; the end value beyond either end. */
export function interpolate(table: Table, x: number): number {
  const after = table.findIndex((point) => point[0] >= x);
  const right = table[after === -1 ? table.length - 1 : after] ?? [x, 0];
  const left = table[after - 1] ?? right;
  if (after <= 0 || right[0] === left[0]) return right[1];
  return left[1] + ((right[1] - left[1]) * (x - left[0])) / (right[0] - left[0]);
}
