import type { Refusal } from './act.ts';

export type Advice = { what: string; again: boolean };

/** What to do about an act that the service did not take. `again`: sending the same act again can succeed later. */
export function adviceFor({ code }: Refusal): Advice {
  switch (code) {
    case 'gear-not-signed':
      return { what: 'Lids on. Have your gear looked at and signed, then send it again.', again: true };
    case 'room-stopped':
      return { what: 'Step back and look at your instructor. When the room is cleared, send it again.', again: true };
    case 'card-voided':
      return { what: 'A new card took the place of yours. Stop, and look at the new one with your instructor before you go on.', again: false };
    case 'step-out-of-order':
      return { what: 'Your partner did this step meanwhile. Look at the card together: what stands there is theirs.', again: false };
    case 'reading-superseded':
      return { what: 'Another reading of this step stands already. Look at the scale together and enter what it shows now.', again: false };
    case 'reading-off-target':
      return { what: 'Read the scale once more and enter it on the live page.', again: false };
    case 'class-not-open':
      return { what: 'The class is over. Give this to your instructor; it can be copied from here.', again: false };
    default:
      return { what: 'Show this to your instructor.', again: false };
  }
}
