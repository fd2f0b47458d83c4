import { formatMass, inServiceLimitMg } from '@ashwater/formulation';
import type { CheckWeighing, Scale } from '@ashwater/formulation';

/** A known mass put on a scale: what it showed, all in mg. */
export type KnownMassCheck = { knownMg: number; knownLimitMg: number; shownMg: number; at: Date };
export type JudgedCheck = { differenceMg: number; limitMg: number; past: boolean; words: string };

/** How long a check speaks for a scale. Ours, no source: about one term of weekly classes. */
export const CHECK_DAYS = 90;
const DAY_MS = 86_400_000;

/**
 * A check against what its class lets a scale be wrong by in service (class III and e as the step where the plate says
 * nothing), and the known mass's own limit on top. All in mg.
 */
export function judgeCheck(check: Omit<KnownMassCheck, 'at'>, scale: Scale): JudgedCheck {
  const { stepMg, verificationIntervalMg, accuracyClass } = scale;
  const differenceMg = check.shownMg - check.knownMg;
  const limitMg = inServiceLimitMg(accuracyClass ?? 'III', verificationIntervalMg ?? stepMg, check.knownMg) + check.knownLimitMg;
  const past = Math.abs(differenceMg) > limitMg;
  const off = differenceMg === 0 ? 'Right on' : `${formatMass(Math.abs(differenceMg), stepMg)} too ${differenceMg > 0 ? 'much' : 'little'}`;
  const words = `${off} at ${formatMass(check.knownMg)}; its limit there is ${formatMass(Math.round(limitMg))}.${past ? ' Past its limit: do not use it until it is adjusted.' : ''}`;
  return { differenceMg, limitMg, past, words };
}

/** The checks that speak for a scale at a time: not older than CHECK_DAYS. One past its limit is forgotten once a later one with at least as heavy a mass was good: then the scale was adjusted. Newest first. */
export function checksInForce<C extends KnownMassCheck>(checks: readonly C[], scale: Scale, at: Date): C[] {
  const young = checks.filter((check) => check.at <= at && at.getTime() - check.at.getTime() <= CHECK_DAYS * DAY_MS);
  const good = (check: C) => !judgeCheck(check, scale).past;
  return young
    .filter((check) => good(check) || !young.some((later) => later.at > check.at && good(later) && later.knownMg >= check.knownMg))
    .sort((a, b) => b.at.getTime() - a.at.getTime());
}

export const forPlanning = (checks: readonly KnownMassCheck[]): CheckWeighing[] =>
  checks.map(({ knownMg, shownMg, knownLimitMg }) => ({ knownMg, shownMg, knownLimitMg }));
