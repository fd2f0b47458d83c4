import type { Act, Refusal } from './act.ts';
import { nextToSend } from './hold.ts';

/** What became of one try: taken, refused for good, or no answer that says so. */
export type Answer = { kind: 'taken' } | { kind: 'refused'; refusal: Refusal } | { kind: 'none' };
export type Outbox = {
  all(): Promise<Act[]>;
  mark(seq: number, state: Act['state'], refusal: Refusal | null): Promise<void>;
};
/** `quiet`: nothing more can be sent now; `no-link`: the link failed and the rest waits. */
export type Drained = { end: 'quiet' | 'no-link'; sent: number };

/**
 * Sends one seat's acts, oldest first, one at a time, each with the id it was stored with. Stops at the first try without an
 * answer: a later act must never overtake an earlier one. The outbox is read again before every try, since another tab, or
 * the student, may have changed it.
 */
export async function drain(outbox: Outbox, seatId: string, send: (act: Act) => Promise<Answer>): Promise<Drained> {
  for (let sent = 0; ; sent += 1) {
    const next = nextToSend(await outbox.all(), seatId);
    if (!next) return { end: 'quiet', sent };
    const answer = await send(next);
    if (answer.kind === 'none') return { end: 'no-link', sent };
    await outbox.mark(next.seq, answer.kind === 'taken' ? 'sent' : 'refused', answer.kind === 'refused' ? answer.refusal : null);
  }
}
