import type { Substance } from '@ashwater/contracts';
import type { StaffContext } from '../../../request-context.ts';
import type { CountResult } from './balance.ts';
import { cusum, FALSE_ALARM_EVERY, LIMIT, standardised } from './loss-test.ts';
import { balanceOfPeriod } from './period.ts';
import type { OnOneScale, PeriodRow } from './period.ts';
import * as store from './period-store.ts';

/** Ten years of monthly counts. What lies farther back is left out of the running test: it began anew since. */
const COUNTS_REMEMBERED = 120;

export type OnScale = (weighing: { stepMg: number; massMg: number; scaleId: string | null }) => OnOneScale;
/** One container as this count found it. */
export type FoundNow = { id: string; netMg: number; grossMg: number };
type Period = Pick<CountResult, 'sinceLast' | 'losses'> & { row: PeriodRow };

/** The balance since the last count of these containers, and the running test for slow losses with it. */
export async function periodSinceLast(
  { tx, studio }: StaffContext,
  count: { id: string; substance: Substance; scaleStepMg: number; scaleId: string | null; found: FoundNow[] },
  onScale: OnScale,
): Promise<Period> {
  const ids = count.found.map(({ id }) => id);
  const last = new Map((await store.lastCounts(tx, studio.id, ids)).map((row) => [row.containerId, row]));
  const rows = await store.movesSince(
    tx,
    studio.id,
    ids.map((id) => ({ id, sinceSeq: last.get(id)?.seq ?? 0 })),
  );
  const moves = Map.groupBy(rows, ({ containerId }) => containerId);
  const watched = count.found.map(({ id, netMg, grossMg }) => {
    const before = last.get(id);
    const opening = before && {
      countId: before.countId,
      netMg: before.netMg,
      weighing: onScale({ ...before, stepMg: before.scaleStepMg, massMg: before.grossMg }),
    };
    return {
      id,
      opening: opening ?? null,
      moves: (moves.get(id) ?? []).map(({ sign, massMg, weighedMg, scaleStepMg, scaleId }) => ({
        sign,
        massMg,
        weighing: weighedMg === null ? null : onScale({ stepMg: scaleStepMg, massMg: weighedMg, scaleId }),
      })),
      closing: { countId: count.id, netMg, weighing: onScale({ stepMg: count.scaleStepMg, massMg: grossMg, scaleId: count.scaleId }) },
    };
  });
  const { balance, row } = balanceOfPeriod(count.id, watched);
  const { unaccountedMg, standardUncertaintyMg, verdict, ratio } = balance;
  const openedAt = [...last.values()].map(({ at }) => at.getTime());
  const at = openedAt.length === 0 ? null : new Date(Math.max(...openedAt)).toISOString();
  const earlier = await store.rowsOf(tx, studio.id, count.substance, COUNTS_REMEMBERED);
  const { sum, since, alarm } = cusum(standardised([...earlier.map((each) => each.row), row]));
  const began = since === null || since === 0 ? null : (earlier[since - 1]?.at.toISOString() ?? null);
  return {
    row,
    sinceLast: { at, unaccountedMg, standardUncertaintyMg, verdict, times: ratio },
    losses: { sum, limit: LIMIT, alarm, since: began, counts: earlier.length + 1, falseAlarmEvery: FALSE_ALARM_EVERY },
  };
}
