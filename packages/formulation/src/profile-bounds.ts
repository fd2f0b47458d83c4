import type { AcidRange, FattyAcid } from './fatty-acids.ts';

/** Ends of what a weighted sum over a composition can be, in the unit of the weight. */
export type Bounds = { low: number; high: number };

/** Starts every acid at its low end and hands out what is left to 100, dearest (or cheapest) first. */
function fill(ranges: readonly AcidRange[], weigh: (acid: FattyAcid) => number, sign: 1 | -1): number {
  let left = 100 - ranges.reduce((sum, range) => sum + range.lowPercent, 0);
  let total = ranges.reduce((sum, range) => sum + range.lowPercent * weigh(range.acid), 0);
  for (const { acid, lowPercent, highPercent } of [...ranges].sort((a, b) => sign * (weigh(a.acid) - weigh(b.acid)))) {
    const taken = Math.min(left, highPercent - lowPercent);
    total += taken * weigh(acid);
    left -= taken;
  }
  return total / 100;
}

/**
 * Lowest and highest mean of `weigh` over every composition whose acids lie in their ranges and add to
 * 100 %. Exact: a linear sum over a box cut by one plane is extreme where the box is filled in order
 * of weight (the continuous knapsack of Dantzig, 1957).
 * @returns undefined where no composition of these ranges adds to 100
 */
export function profileBounds(ranges: readonly AcidRange[], weigh: (acid: FattyAcid) => number): Bounds | undefined {
  const least = ranges.reduce((sum, range) => sum + range.lowPercent, 0);
  const most = ranges.reduce((sum, range) => sum + range.highPercent, 0);
  if (least > 100 || most < 100) return undefined;
  return { low: fill(ranges, weigh, 1), high: fill(ranges, weigh, -1) };
}
