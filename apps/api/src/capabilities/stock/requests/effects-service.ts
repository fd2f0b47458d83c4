import type { RequestKind } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { StaffContext } from '../../../request-context.ts';
import { postAsked, wordsOfCorrection } from '../corrections/post-service.ts';
import type { Asked } from '../corrections/post-service.ts';
import { makeAsked } from '../handing/service.ts';
import type { RequestRow } from './store.ts';

/** What an approval does, by kind: in the decision's own transaction, with the request's id on every line. */
export const EFFECTS: Record<RequestKind, (context: StaffContext, request: RequestRow) => Promise<void>> = {
  checkout: makeAsked,
  reversal: postAsked,
  correction: postAsked,
  'write-off': postAsked,
  disposal: postAsked,
};

/** What a request would do, for whoever decides. */
export async function wordsOf(context: StaffContext, { kind, content, reason }: RequestRow): Promise<{ words: string; massMg: number | null }> {
  const massMg = typeof content['massMg'] === 'number' ? content['massMg'] : null;
  // A hand-out's reason was written by the service and says it all.
  if (kind === 'checkout') return { words: reason, massMg };
  return { words: await wordsOfCorrection(context, content as Asked, massMg === null ? '' : formatMass(massMg)), massMg };
}
