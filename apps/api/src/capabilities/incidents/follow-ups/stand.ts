import type { FollowUpOut } from '@ashwater/contracts';
import type { ActRow } from './store.ts';

type Stand = Pick<FollowUpOut, 'owner' | 'dueOn' | 'state'> & { doneBy: string | null };

/** Where a follow-up stands, by its acts in their order. `today` is yyyy-mm-dd; on its day it is not overdue yet. */
export function standOf(acts: readonly Pick<ActRow, 'kind' | 'ownerId' | 'ownerName' | 'dueOn' | 'byId'>[], today: string): Stand {
  const given = acts.findLast(({ kind }) => kind === 'given');
  if (!given?.ownerId || !given.dueOn) throw new Error('a follow-up was given to nobody');
  const last = acts.findLast(({ kind }) => kind !== 'given');
  const closed = last?.kind === 'done' || last?.kind === 'verified' ? last.kind : null;
  const doneBy = closed ? (acts.findLast(({ kind }) => kind === 'done')?.byId ?? null) : null;
  return {
    owner: { id: given.ownerId, name: given.ownerName ?? '' },
    dueOn: given.dueOn,
    state: closed ?? (given.dueOn < today ? 'overdue' : 'open'),
    doneBy,
  };
}
