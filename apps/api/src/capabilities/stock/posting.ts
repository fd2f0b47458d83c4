import type { StaffContext } from '../../request-context.ts';
import type { Posting } from './ledger-store.ts';

/** Who writes into the books, and when: the actor of the request, at its time. */
export const postingOf = ({ studio, actor, now }: Pick<StaffContext, 'studio' | 'actor' | 'now'>): Posting => ({
  studioId: studio.id,
  accountId: actor.id,
  at: now,
});
