import type { Scale } from '@ashwater/formulation';
import { CHECK_DAYS, checksInForce, judgeCheck } from '../../scale-checks.ts';

export { checksInForce, forPlanning, judgeCheck } from '../../scale-checks.ts';

export type Check = { id: string; stationId: string; scale: 'main' | 'lye'; knownMg: number; knownLimitMg: number; shownMg: number; at: Date; byName: string };

/** What the preparation of a class says of one scale's checks; `fault` stops publishing. */
export function checkWords(name: string, all: readonly Check[], scale: Scale, now: Date): { note: string | null; fault: string | null } {
  const inForce = checksInForce(all, scale, now);
  const past = inForce.find((check) => judgeCheck(check, scale).past);
  if (past) return { note: null, fault: `${name[0]?.toUpperCase()}${name.slice(1)}: ${judgeCheck(past, scale).words}` };
  if (inForce.length > 0) return { note: null, fault: null };
  const known = all.length > 0 ? `The last check of the ${name} is more than ${CHECK_DAYS} days old` : `The ${name} was never checked with a known mass`;
  return { note: `${known}: the plan counts on the limit of its class.`, fault: null };
}
