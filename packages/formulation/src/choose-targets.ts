/**
 * The exact choice of what the scale must read, as a small search over whole steps.
 *
 * Free are: each fat, at the step below or above its exact mass; the alkali, at one of a few
 * combinations. Everything else follows. Masses in mg of pure KOH that a line needs or meets:
 * `needMg` nominal, `needLowMg` and `metHighMg` at the worst end of reading, scale, oil and purity.
 */
export type FatOption = { targetMg: number; needMg: number; needLowMg: number; awayMg: number };
export type AlkaliOption = { targetsMg: readonly number[]; metMg: number; metHighMg: number };

/**
 * Deviations from the aim are compared to a billionth of a point of superfat, and equal ones by how
 * far the fats are moved. `mostDeviationPercent`: a plan farther above the aim than this is another recipe and not allowed.
 */
export type TargetProblem = {
  fats: readonly (readonly FatOption[])[];
  alkali: readonly AlkaliOption[];
  aimPercent: number;
  floorPercent: number;
  mostDeviationPercent: number;
};

export type TargetChoice = { fats: FatOption[]; alkali: AlkaliOption; deviationPercent: number; awayMg: number };

/** All combinations of one half of the fats, as columns in order of rising need. */
type Half = { size: number; picks: Int32Array; need: Float64Array; low: Float64Array; away: Float64Array };

function halfOf(fats: readonly (readonly FatOption[])[]): Half {
  let rows = [{ pick: 0, need: 0, low: 0, away: 0 }];
  fats.forEach((options, bit) => {
    rows = options.flatMap((option, index) =>
      rows.map((row) => ({
        pick: row.pick + index * 2 ** bit,
        need: row.need + option.needMg,
        low: row.low + option.needLowMg,
        away: row.away + option.awayMg,
      })),
    );
  });
  rows.sort((a, b) => a.need - b.need);
  return {
    size: rows.length,
    picks: Int32Array.from(rows, (row) => row.pick),
    need: Float64Array.from(rows, (row) => row.need),
    low: Float64Array.from(rows, (row) => row.low),
    away: Float64Array.from(rows, (row) => row.away),
  };
}

/** First place in rising values that is not under `least`. */
function firstFrom(values: Float64Array, least: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((values[middle] ?? 0) < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

function picked(fats: readonly (readonly FatOption[])[], pick: number): FatOption[] {
  return fats.map((options, bit) => options[(pick >> bit) & 1]).filter((option) => option !== undefined);
}

/** Points of superfat: what lies nearer together is the same, for sums in another order differ by as much. */
export const EQUAL_PERCENT = 1e-9;

/** A hair above the floor, as a share: sums in another order must not end under it, so a plan that stands exactly on it is passed over. */
export const FLOOR_HAIR = 1e-12;

/** Best so far: deviation in multiples of that, then how far the fats are moved. */
type Best = { rank: number; away: number; left: number; right: number; alkali: AlkaliOption | null };

/**
 * One combination of alkali against all pairs of halves. For a left half the right halves come in
 * order of rising need, so of rising deviation: those before the first are under the aim and not
 * allowed, and past the best rank none can be better.
 */
function searchHalves(problem: TargetProblem, alkali: AlkaliOption, left: Half, right: Half, best: Best): void {
  const leastNeed = alkali.metMg / (1 - problem.aimPercent / 100);
  const leastLow = (alkali.metHighMg / (1 - problem.floorPercent / 100)) * (1 + FLOOR_HAIR);
  for (let i = 0; i < left.size; i++) {
    const needLeft = left.need[i] ?? 0;
    const lowLeft = left.low[i] ?? 0;
    const awayLeft = left.away[i] ?? 0;
    for (let j = firstFrom(right.need, leastNeed - needLeft); j < right.size; j++) {
      const deviation = 100 * (1 - alkali.metMg / (needLeft + (right.need[j] ?? 0))) - problem.aimPercent;
      const rank = Math.floor(Math.max(0, deviation) / EQUAL_PERCENT);
      if (rank > best.rank || deviation > problem.mostDeviationPercent) break;
      const away = awayLeft + (right.away[j] ?? 0);
      if (rank === best.rank && away >= best.away) continue;
      if (lowLeft + (right.low[j] ?? 0) < leastLow) continue;
      Object.assign(best, { rank, away, left: i, right: j, alkali });
    }
  }
}

/**
 * The allowed combination whose nominal superfat is nearest the aim, and of equals the one that moves
 * the fats least; null when none is allowed. Allowed: nominal superfat at or above the aim, so that
 * the alkali is never more than the chosen fats need at it, and not past `mostDeviationPercent`;
 * worst-case superfat a hair (FLOOR_HAIR) above the floor. At most two options a fat and 30 fats a half.
 *
 * Optimal, because nothing is left out: superfat is 1 - met / need, so with the alkali fixed both
 * rules are bounds from below on sums over the fats, and the deviation rises with the need. The fats
 * are cut in two halves, each half's combinations are all listed, and every pair is either looked at
 * or passed over for one of two reasons that hold for the pair itself: its need is under the bound,
 * or its deviation is past the most allowed or its rank past one already found (and so for all pairs
 * after it, whose need is at least as great).
 * Listing costs 2^(n/2) for n fats; pairs cost at most 2^n for each combination of alkali.
 */
export function chooseTargets(problem: TargetProblem): TargetChoice | null {
  const cut = Math.ceil(problem.fats.length / 2);
  const [leftFats, rightFats] = [problem.fats.slice(0, cut), problem.fats.slice(cut)];
  const [left, right] = [halfOf(leftFats), halfOf(rightFats)];
  const best: Best = { rank: Infinity, away: Infinity, left: 0, right: 0, alkali: null };
  for (const alkali of problem.alkali) searchHalves(problem, alkali, left, right, best);
  if (!best.alkali) return null;
  const fats = [...picked(leftFats, left.picks[best.left] ?? 0), ...picked(rightFats, right.picks[best.right] ?? 0)];
  const needMg = fats.reduce((sum, option) => sum + option.needMg, 0);
  const deviationPercent = 100 * (1 - best.alkali.metMg / needMg) - problem.aimPercent;
  return { fats, alkali: best.alkali, deviationPercent, awayMg: best.away };
}
