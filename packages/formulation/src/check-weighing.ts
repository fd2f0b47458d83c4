/**
 * A studio's own check of its scale: what it showed with a known mass on it, both mg. `knownLimitMg`
 * is how wrong the known mass itself can be (0 if left out: a test weight far better than the scale).
 */
export type CheckWeighing = { knownMg: number; shownMg: number; knownLimitMg?: number };

/**
 * How wrong a scale may be at a load, mg, judged by check weighings alone; no standard behind it, our
 * judgement. Each check vouches for its own difference, plus half a step because the display hides
 * that much, plus the limit of the known mass. The worst check holds for every load up to the
 * heaviest known mass; past it nothing was checked and the limit grows in proportion to the load.
 *
 * It says nothing of a scale that was dropped since, stands crooked or is loaded at a corner. At
 * least one check is needed, with a known mass above 0.
 */
export function checkedLimitMg(stepMg: number, checks: readonly CheckWeighing[], massMg: number): number {
  const worstMg = Math.max(...checks.map((check) => Math.abs(check.shownMg - check.knownMg) + stepMg / 2 + (check.knownLimitMg ?? 0)));
  const heaviestMg = Math.max(...checks.map((check) => check.knownMg));
  return worstMg * Math.max(1, Math.abs(massMg) / heaviestMg);
}
