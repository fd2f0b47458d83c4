import type { ClassDifferenceOut } from '@ashwater/contracts';
import { ACTION_RATIO, formatMass, WARNING_RATIO } from '@ashwater/formulation';
import type { Scale } from '@ashwater/formulation';
import { ownErrorMg, roundingErrorMg } from '../weighing-error.ts';

/** One weighing behind a difference. `sign` is 1 where its mass adds to what left the cabinet for good, -1 where it takes from it or was weighed at a station. `scaleKey` names the one scale that it was made on. */
export type SignedWeighing = { scale: Scale | number; scaleKey: string; massMg: number; sign: 1 | -1 };

/** Standard uncertainty of a signed sum of weighings, mg: eight weighings on one scale do not average its own error out, what went out and came back on it cancels. */
export function doubtOf(weighings: readonly SignedWeighing[]): number {
  const perScale = new Map<string, number>();
  let variance = 0;
  for (const { scale, scaleKey, massMg, sign } of weighings) {
    variance += roundingErrorMg(typeof scale === 'number' ? scale : scale.stepMg) ** 2;
    perScale.set(scaleKey, (perScale.get(scaleKey) ?? 0) + sign * ownErrorMg(scale, massMg));
  }
  for (const signedMg of perScale.values()) variance += signedMg ** 2;
  return Math.sqrt(variance);
}

export type Judged = Pick<ClassDifferenceOut, 'openMg' | 'verdict' | 'words'>;
type Told = { outMg: number; differenceMg: number; explainedMg: number; standardUncertaintyMg: number; cards: number };

/** What the difference of a class comes to, in words. It stays open until it agrees or is explained. Masses in mg. */
export function judgeDifference({ outMg, differenceMg, explainedMg, standardUncertaintyMg, cards }: Told): Judged {
  const openMg = differenceMg - explainedMg;
  if (outMg > 0)
    return { openMg, verdict: 'still out', words: `${formatMass(outMg)} is handed out and not taken back yet. What was used is known when it is back.` };
  const off = Math.abs(openMg);
  const doubt = formatMass(Math.max(10, Math.ceil(standardUncertaintyMg / 10) * 10));
  const within = off <= WARNING_RATIO * standardUncertaintyMg;
  const rest = explainedMg === 0 ? '' : ` ${formatMass(Math.abs(explainedMg))} of ${formatMass(Math.abs(differenceMg))} is explained.`;
  if (within && explainedMg !== 0) return { openMg, verdict: 'explained', words: `Explained.${rest}` };
  if (within) return { openMg, verdict: 'agrees', words: agreeing(openMg, doubt) };
  const side =
    openMg > 0 ? `${formatMass(off)} more left the cabinet than the cards weighed` : `The cards weighed ${formatMass(off)} more than left the cabinet`;
  const times = standardUncertaintyMg > 0 ? Math.round(off / standardUncertaintyMg) : 0;
  const ratio = times > 0 && times < 1000 ? `, ${times} times what weighing leaves in doubt (${doubt})` : '';
  const missing = cards === 0 ? ' No card has a reading: were they weighed on paper?' : '';
  const verdict = off <= ACTION_RATIO * standardUncertaintyMg ? 'unclear' : 'does not agree';
  const next = verdict === 'unclear' ? ' Unclear: look once more at the readings and the vessel.' : ' Find out what became of it.';
  return { openMg, verdict, words: `${side}${ratio}.${rest}${missing}${next}` };
}

const agreeing = (openMg: number, doubt: string): string =>
  openMg === 0
    ? 'What left the cabinet is what the cards weighed.'
    : `${formatMass(Math.abs(openMg))} apart; weighing alone leaves ${doubt} in doubt. They agree.`;
