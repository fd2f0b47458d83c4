import type { CountOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';

type Result = CountOut['results'][number];

const atLeast10 = (mg: number): string => formatMass(Math.max(10, Math.ceil(mg / 10) * 10));

/** What is unaccounted for since the last count, against what weighing leaves in doubt. */
export function sinceWords({ unaccountedMg, standardUncertaintyMg, verdict, times }: NonNullable<Result['sinceLast']>): string {
  const doubt = atLeast10(standardUncertaintyMg);
  if (unaccountedMg === 0) return `nothing is unaccounted for (weighing leaves ${doubt} in doubt).`;
  const amount = `${formatMass(Math.abs(unaccountedMg))} ${unaccountedMg > 0 ? 'short' : 'too much'}`;
  if (verdict === 'agrees') return `${amount}, which weighing alone can explain (it leaves ${doubt} in doubt).`;
  const ratio =
    times !== null && times < 1000
      ? `${times < 10 ? times.toFixed(1) : Math.round(times)} times what weighing leaves in doubt (${doubt})`
      : `weighing leaves ${doubt} in doubt`;
  return verdict === 'unclear'
    ? `${amount}, ${ratio}. Unclear: count again, with a finer scale if there is one.`
    : `${amount}, ${ratio}. This is not weighing.`;
}

/** What the running test over all counts says. */
export function lossWords({ sum, limit, alarm, counts, falseAlarmEvery }: NonNullable<Result['losses']>): string {
  const where = `Running sum ${sum.toFixed(1)}, limit ${limit}`;
  const rate = `Weighing alone sets this off about once in ${falseAlarmEvery} counts.`;
  if (alarm) return `Each count may look right, but together they lie too far on one side. ${where}. ${rate} Look for a use that nobody wrote down.`;
  if (counts < 2) return `Slow losses show over several counts; this is the first. ${where}.`;
  return `No sign of slow losses in ${counts} counts. ${where}. ${rate}`;
}

const ORDER = ['agrees', 'unclear', 'does not agree'];
/** The worse of what the whole book and the time since the last count say; a running test past its limit is the worst. */
export function worstVerdict({ verdict, sinceLast, losses }: Result): string {
  if (losses?.alarm) return ORDER.at(-1)!;
  return ORDER[Math.max(ORDER.indexOf(verdict), ORDER.indexOf(sinceLast?.verdict ?? verdict))] ?? verdict;
}
