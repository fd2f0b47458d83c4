import { errorLimitMg } from '@ashwater/formulation';
import { cusum, standardised } from '../../apps/api/src/capabilities/stock/counts/loss-test.ts';
import type { LossTest } from '../../apps/api/src/capabilities/stock/counts/loss-test.ts';
import { balanceOfPeriod } from '../../apps/api/src/capabilities/stock/counts/period.ts';
import type { Found, Move, PeriodRow } from '../../apps/api/src/capabilities/stock/counts/period.ts';
import { drawsFrom } from '../../packages/formulation/src/testing-draws.ts';

/*
 * A studio's cabinet played month by month, to see how often the running test cries wolf and how soon it finds a thief. The figures of the
 * studio are our own: eight classes a month that take 280 to 420 g each and bring a part back, one container of 5 kg opened at a time, one scale
 * with a step of 1 g, a count of everything at the end of the month.
 */
export const MONTHS = 36;
const CLASSES_A_MONTH = 8;
const FULL_MG = 5_000_000;
const TARE_MG = 250_000;
const STEP_MG = 1000;

/** `stolenShare` of each month's use leaves without a line; `driftPerMonth` moves the scale's own error, in shares of its limit. */
export type Studio = { seed: number; stolenShare: number; driftPerMonth?: number };

/** The running test after every count of three years. */
export function playStudio({ seed, stolenShare, driftPerMonth = 0 }: Studio): LossTest[] {
  const draw = drawsFrom(seed);
  // What the scale is wrong by, as a share of its limit: anything between the limits, and the same at every use but for drift.
  let lean = 2 * draw() - 1;
  const drift = (2 * draw() - 1) * driftPerMonth;
  const show = (trueMg: number): number => Math.max(0, Math.round((trueMg + lean * (errorLimitMg(STEP_MG, trueMg) - STEP_MG / 2)) / STEP_MG) * STEP_MG);
  const on = (massMg: number) => ({ massMg, stepMg: STEP_MG, scaleKey: 'bench' });
  let trueMg = 0;
  let opening: Found | null = null;
  const rows: PeriodRow[] = [];
  return Array.from({ length: MONTHS }, (_, month) => {
    const moves: Move[] = [];
    let usedMg = 0;
    for (let i = 0; i < CLASSES_A_MONTH; i += 1) {
      const wantMg = 280_000 + Math.floor(draw() * 140_000);
      // A new container is received when the open one would not do; its content joins what is counted.
      if (trueMg < wantMg * 2) {
        const gross = show(FULL_MG + TARE_MG);
        trueMg += FULL_MG;
        moves.push({ sign: 1, massMg: gross - TARE_MG, weighing: on(gross) });
      }
      const out = show(wantMg);
      const backMg = wantMg * draw() * 0.4;
      const back = Math.min(show(backMg), out);
      trueMg += backMg - wantMg;
      usedMg += wantMg - backMg;
      moves.push({ sign: -1, massMg: out, weighing: on(out) }, { sign: 1, massMg: back, weighing: on(back) });
    }
    trueMg -= Math.min(trueMg, usedMg * stolenShare);
    const gross = show(trueMg + TARE_MG);
    const closing: Found = { countId: `m${month}`, netMg: gross - TARE_MG, weighing: on(gross) };
    rows.push(balanceOfPeriod(`m${month}`, [{ id: 'cabinet', opening, moves, closing }]).row);
    opening = closing;
    lean = Math.max(-1, Math.min(1, lean + drift));
    return cusum(standardised(rows));
  });
}

/** Of `studios` studios, the count at which each was first alarmed, from 1; null for those that never were. */
export function firstAlarms(studios: number, over: Omit<Studio, 'seed'>, firstSeed = 1): (number | null)[] {
  return Array.from({ length: studios }, (_, index) => {
    const first = playStudio({ seed: firstSeed + index, ...over }).findIndex(({ alarm }) => alarm);
    return first < 0 ? null : first + 1;
  });
}

/** Share of them that was alarmed by each count. */
export const alarmedBy = (alarms: readonly (number | null)[]): number[] =>
  Array.from({ length: MONTHS }, (_, month) => alarms.filter((at) => at !== null && at <= month + 1).length / alarms.length);
