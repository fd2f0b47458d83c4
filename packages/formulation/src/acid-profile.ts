import { checkNumber, figure } from './check-number.ts';
import type { FattyAcid } from './fatty-acids.ts';
import { fattyAcidByCode } from './fatty-acids.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';

/** One measured acid: its code, e.g. "18:1", and its percent by mass of all fatty acids. */
export type AcidShare = { acid: string; percent: number };

/** `massShare` is a fraction; the fractions of a profile add to 1. */
export type ProfilePart = { acid: FattyAcid; massShare: number };

/** A gas chromatogram rounds and leaves traces out, so its sum may miss 100 by this much. */
const SUM_TOLERANCE_PERCENT = 5;

function checkShare(share: AcidShare, index: number): FormulationProblem[] {
  const problems = checkNumber(share.percent, `/profile/${index}/percent`, { name: `The share of ${share.acid}`, unit: '%', min: 0, max: 100 });
  if (fattyAcidByCode(share.acid)) return problems;
  const detail = `There is no fatty acid "${share.acid}" in the list; write carbons and double bonds, like 18:1.`;
  return [...problems, problem('value-out-of-range', `/profile/${index}/acid`, detail, { acid: share.acid })];
}

/**
 * A measured composition as fractions that add to 1: published shares add to 99.8 or 100.5, and the
 * methods of AOCS work on shares of the whole. A sum further than 5 from 100 is refused, because an
 * acid is then missing or typed twice.
 */
export function normaliseProfile(profile: readonly AcidShare[]): Outcome<ProfilePart[]> {
  const problems = profile.flatMap(checkShare);
  if (problems.length > 0) return refuse(problems);
  const sum = profile.reduce((total, share) => total + share.percent, 0);
  if (Math.abs(sum - 100) > SUM_TOLERANCE_PERCENT) {
    const detail = `The fatty acids add to ${figure(sum)} %; they must add to 95 to 105 %, so look for one that is missing or doubled.`;
    return refuse([problem('value-out-of-range', '/profile', detail, { sumPercent: sum })]);
  }
  return succeed(
    profile.flatMap(({ acid: code, percent }) => {
      const acid = fattyAcidByCode(code);
      return acid ? [{ acid, massShare: percent / sum }] : [];
    }),
  );
}
