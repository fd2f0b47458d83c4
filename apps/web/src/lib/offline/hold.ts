import type { Act } from './act.ts';
import { stepOfDeed } from './act.ts';

/** After these the card itself went on (a partner did the step): only the same step's acts hang on the refused one. */
const WENT_ON = new Set(['step-out-of-order', 'not-found']);

/**
 * The refused act that this one must wait for, or null. Acts of the same step always hang on each other; where the card did
 * not go on without us (gear not signed, room stopped, card replaced), all later acts of the card do too: sent now they
 * would only be refused one by one.
 */
export function heldBy(act: Act, acts: readonly Act[]): Act | null {
  const own = stepOfDeed(act.deed);
  if (!own || act.state !== 'waiting') return null;
  return (
    acts.find((other) => {
      const place = stepOfDeed(other.deed);
      if (other.state !== 'refused' || other.seq >= act.seq || other.seatId !== act.seatId || place?.cardId !== own.cardId) return false;
      return place.stepNo === own.stepNo || !WENT_ON.has(other.refusal?.code ?? '');
    }) ?? null
  );
}

/** The next act to send for a seat: the oldest that waits and hangs on nothing refused. */
export function nextToSend(acts: readonly Act[], seatId: string): Act | null {
  return acts.filter((act) => act.seatId === seatId && act.state === 'waiting' && !heldBy(act, acts)).toSorted((a, b) => a.seq - b.seq)[0] ?? null;
}

/** A refused act with all that hangs on it, for putting away together. */
export const withHeld = (refused: Act, acts: readonly Act[]): Act[] => [refused, ...acts.filter((act) => heldBy(act, acts)?.seq === refused.seq)];
