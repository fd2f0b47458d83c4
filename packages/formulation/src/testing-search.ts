import type { AlkaliOption, TargetProblem } from './choose-targets.ts';
import { EQUAL_PERCENT, FLOOR_HAIR } from './choose-targets.ts';

/** For tests only: the part of the solver `highs` that is used here. */
export type Solver = { solve(model: string, options: Record<string, number | boolean>): { Status: string; ObjectiveValue: number } };

/** For tests only: the best of all combinations, each computed on its own, as slow as it is plain. */
export type BruteBest = { rank: number; deviationPercent: number; awayMg: number };

export function bestByBruteForce(problem: TargetProblem): BruteBest | null {
  let best: BruteBest | null = null;
  for (const alkali of problem.alkali) {
    for (let pick = 0; pick < 2 ** problem.fats.length; pick++) {
      let [need, needLow, awayMg, real] = [0, 0, 0, true];
      problem.fats.forEach((options, index) => {
        const option = options[Math.floor(pick / 2 ** index) % 2];
        if (!option) real = false;
        need += option?.needMg ?? 0;
        needLow += option?.needLowMg ?? 0;
        awayMg += option?.awayMg ?? 0;
      });
      const deviationPercent = 100 * (1 - alkali.metMg / need) - problem.aimPercent;
      const underFloor = needLow * (1 - problem.floorPercent / 100) < alkali.metHighMg * (1 + FLOOR_HAIR);
      if (!real || deviationPercent < 0 || deviationPercent > problem.mostDeviationPercent || underFloor) continue;
      const rank = Math.floor(deviationPercent / EQUAL_PERCENT);
      if (best === null || rank < best.rank || (rank === best.rank && awayMg < best.awayMg)) best = { rank, deviationPercent, awayMg };
    }
  }
  return best;
}

/**
 * The same search as a mixed-integer programme, one for each combination of alkali: the least need
 * above both bounds, with a 0/1 variable for each fat's second option. In percent of the whole need,
 * so that the solver's tolerances mean the same for every batch. `above`: percent of the need that must be left above the floor.
 */
function leastNeedBySolver(highs: Solver, problem: TargetProblem, alkali: AlkaliOption, above: number): number | null {
  const base = problem.fats.reduce((sum, [first]) => sum + (first?.needMg ?? 0), 0);
  const baseLow = problem.fats.reduce((sum, [first]) => sum + (first?.needLowMg ?? 0), 0);
  const unit = base / 100;
  const swing = (key: 'needMg' | 'needLowMg'): string =>
    problem.fats
      .map(([first, second], index) => ({ by: ((second?.[key] ?? first?.[key] ?? 0) - (first?.[key] ?? 0)) / unit, index }))
      .map(({ by, index }) => `${by < 0 ? '-' : '+'} ${Math.abs(by).toFixed(12)} x${index}`)
      .join(' ');
  const least = (alkali.metMg / (1 - problem.aimPercent / 100) - base) / unit;
  const most = (alkali.metMg / (1 - (problem.aimPercent + problem.mostDeviationPercent) / 100) - base) / unit;
  const leastLow = (alkali.metHighMg / (1 - problem.floorPercent / 100) - baseLow) / unit + above;
  const binaries = problem.fats.map((_options, index) => `x${index}`).join(' ');
  const rows = [`aim: ${swing('needMg')} >= ${least.toFixed(12)}`, `most: ${swing('needMg')} <= ${most.toFixed(12)}`];
  const model = `Minimize\n need: ${swing('needMg')}\nSubject To\n ${rows.join('\n ')}\n floor: ${swing('needLowMg')} >= ${leastLow.toFixed(12)}\nBinary\n ${binaries}\nEnd`;
  const exactly = { mip_rel_gap: 0, mip_abs_gap: 1e-9, mip_feasibility_tolerance: 1e-9, primal_feasibility_tolerance: 1e-9 };
  const solved = highs.solve(model, { output_flag: false, ...exactly });
  return solved.Status === 'Optimal' ? base + solved.ObjectiveValue * unit : null;
}

/** Least deviation from the aim over all combinations of alkali, points of superfat; Infinity if none is allowed. */
export function leastDeviationBySolver(highs: Solver, problem: TargetProblem, above: number): number {
  const deviations = problem.alkali.flatMap((alkali) => {
    const needMg = leastNeedBySolver(highs, problem, alkali, above);
    return needMg === null ? [] : [100 * (1 - alkali.metMg / needMg) - problem.aimPercent];
  });
  return Math.min(Infinity, ...deviations);
}
