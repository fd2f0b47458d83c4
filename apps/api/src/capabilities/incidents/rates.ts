import jstat from 'jstat';

const { chisquare } = jstat.jStat;

/** Two-sided limits of a mean. */
export type Limits = { low: number; high: number };
const CONFIDENCE = 0.95;

function checkCount(count: number, name: string): void {
  if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`${name} is a whole number from 0, not ${count}`);
}
function checkHours(hours: number, name: string): void {
  if (!Number.isFinite(hours) || hours < 0) throw new RangeError(`${name} is a number from 0, not ${hours}`);
}

/**
 * Exact limits of the mean behind a Poisson count (Garwood, Biometrika 28, 1936): chi-squared quantiles with 2n and 2n + 2 degrees of freedom, halved.
 * `low` is 0 for a count of 0.
 * @throws RangeError for a count that is no whole number from 0, or a confidence not between 0 and 1
 */
export function poissonLimits(count: number, confidence = CONFIDENCE): Limits {
  checkCount(count, 'count');
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`confidence lies between 0 and 1, not ${confidence}`);
  const tail = (1 - confidence) / 2;
  return { low: count === 0 ? 0 : chisquare.inv(tail, 2 * count) / 2, high: chisquare.inv(1 - tail, 2 * count + 2) / 2 };
}

/** Events per 1,000 hours with exact limits; null without hours, when nothing can be said. @throws RangeError */
export function ratePer1000h(count: number, hours: number): ({ rate: number } & Limits) | null {
  checkCount(count, 'count');
  checkHours(hours, 'hours');
  if (hours === 0) return null;
  const { low, high } = poissonLimits(count);
  const per = 1000 / hours;
  return { rate: count * per, low: low * per, high: high * per };
}

/** Hours that 100 people work in a year of 50 weeks: what US incidence rates are told against (29 CFR 1904; BLS). */
const RATE_HOURS = 200_000;
/** Incidence rate: cases x 200,000 / hours worked. Null without hours. @throws RangeError */
export function incidenceRate(cases: number, hoursWorked: number): number | null {
  checkCount(cases, 'cases');
  checkHours(hoursWorked, 'hoursWorked');
  return hoursWorked === 0 ? null : (cases * RATE_HOURS) / hoursWorked;
}

export type ChartPoint = { count: number; exposure: number };
export type Chart = { mean: number; points: { rate: number | null; low: number | null; high: number | null; outside: boolean }[] };
const SIGMAS = 3;
/**
 * u-chart: the mean rate over all periods, and for each its limits of 3 sigma, u +- 3 sqrt(u / n) (NIST/SEMATECH e-Handbook 6.3.3.1, of which the c-chart
 * is the case of equal exposure). A low limit is never below 0; a period without exposure has none. Null without any exposure. @throws RangeError
 */
export function uChart(points: readonly ChartPoint[]): Chart | null {
  for (const { count, exposure } of points) {
    checkCount(count, 'count');
    checkHours(exposure, 'exposure');
  }
  const exposed = points.filter(({ exposure }) => exposure > 0);
  const exposure = exposed.reduce((sum, point) => sum + point.exposure, 0);
  if (exposure === 0) return null;
  const mean = exposed.reduce((sum, point) => sum + point.count, 0) / exposure;
  return {
    mean,
    points: points.map((point) => {
      if (point.exposure === 0) return { rate: null, low: null, high: null, outside: false };
      const rate = point.count / point.exposure;
      const spread = SIGMAS * Math.sqrt(mean / point.exposure);
      const [low, high] = [Math.max(0, mean - spread), mean + spread];
      return { rate, low, high, outside: rate < low || rate > high };
    }),
  };
}

/** From here on a count alone says a little. Ours, no source. */
const FEW = 5;
/** That a small number is small, in words; null from FEW on. @throws RangeError */
export function smallNumberWords(count: number): string | null {
  checkCount(count, 'count');
  if (count >= FEW) return null;
  const { low, high } = poissonLimits(count);
  const few = count === 0 ? 'None' : `Only ${count}`;
  return `${few} in this period: with the same risk the usual number may be anything from ${low.toFixed(1)} to ${high.toFixed(1)}. No trend can be read from so few, and few notes may also mean that few were told.`;
}
