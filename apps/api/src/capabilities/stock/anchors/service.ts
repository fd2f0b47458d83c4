import type { Database, Tx } from '../../../plugins/database/database.ts';
import { anchorsOf, writeAnchor } from './anchor-file.ts';
import * as store from './store.ts';

/** Writes down where a studio's ledger ends now, unless it ends where it ended at the last anchor. */
export async function anchorStudio(db: Database, file: string, studioId: string, now: Date): Promise<void> {
  const head = await db.transact(studioId, (tx) => store.head(tx, studioId));
  const last = (await anchorsOf(file, studioId)).at(-1);
  if (head && last?.seq !== head.seq) await writeAnchor(file, { studioId, ...head, at: now.toISOString() });
}

/**
 * What the anchors say against the ledger, a sentence each. The chain's own check does not notice that its end was cut off and its
 * head set back, or that all of it was written anew: a line that was there on a day, and is not now, tells.
 */
export async function anchorFaults(tx: Tx, studioId: string, file: string | undefined): Promise<string[]> {
  if (!file) return [];
  const anchors = await anchorsOf(file, studioId);
  const strange = new Set(await store.strange(tx, studioId, anchors));
  return anchors
    .filter(({ seq }) => strange.has(seq))
    .map(({ seq, at }) => `line ${seq} is not what it was on ${at.slice(0, 10)}, by the record kept outside the database`);
}
