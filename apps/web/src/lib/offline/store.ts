import type { StationView } from '@ashwater/contracts';
import { openDB } from 'idb';
import type { DBSchema, IDBPDatabase } from 'idb';
import type { Act, NewAct, Refusal } from './act.ts';

/** The station as last seen. `aheadMs`: the service's clock minus this device's. `awaySince`: when the link was first missed. */
export type Snapshot = { seatId: string; view: StationView; savedAt: string; aheadMs: number; awaySince: string | null };

interface Kept extends DBSchema {
  snapshot: { key: string; value: Snapshot };
  outbox: { key: number; value: Act; indexes: { id: string } };
}
const NAME = 'ashwater-station';

let opened: Promise<IDBPDatabase<Kept>> | undefined;
const base = () =>
  (opened ??= openDB<Kept>(NAME, 1, {
    upgrade(db) {
      db.createObjectStore('snapshot', { keyPath: 'seatId' });
      db.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true }).createIndex('id', 'id', { unique: true });
    },
    terminated: () => (opened = undefined),
  }));

/** The one snapshot this device keeps, or null. */
export async function keptSnapshot(): Promise<Snapshot | null> {
  return (await (await base()).getAll('snapshot'))[0] ?? null;
}

/**
 * Keeps what the service said of a seat's station. Whatever was kept of another seat goes, its unsent acts excepted. Acts in
 * `seen`, those known to be taken before this view was asked for, go too: the view holds them.
 */
export async function keepSnapshot(snapshot: Snapshot, seen: readonly number[] = []): Promise<void> {
  const tx = (await base()).transaction(['snapshot', 'outbox'], 'readwrite');
  for (const seatId of await tx.objectStore('snapshot').getAllKeys()) if (seatId !== snapshot.seatId) await tx.objectStore('snapshot').delete(seatId);
  for (const act of await tx.objectStore('outbox').getAll())
    if (act.state === 'sent' && (act.seatId !== snapshot.seatId || seen.includes(act.seq))) await tx.objectStore('outbox').delete(act.seq);
  await tx.objectStore('snapshot').put(snapshot);
  await tx.done;
}

/** Nobody holds a seat on this device any more: only what was never sent stays. */
export async function wipeAllButUnsent(): Promise<void> {
  const tx = (await base()).transaction(['snapshot', 'outbox'], 'readwrite');
  await tx.objectStore('snapshot').clear();
  for (const act of await tx.objectStore('outbox').getAll()) if (act.state === 'sent') await tx.objectStore('outbox').delete(act.seq);
  await tx.done;
}

/** Stores an act before anything is sent. The same id twice is one act. */
export async function keepAct(act: NewAct): Promise<void> {
  const tx = (await base()).transaction('outbox', 'readwrite');
  if ((await tx.store.index('id').getKey(act.id)) === undefined) {
    const row: Omit<Act, 'seq'> = { ...act, state: 'waiting', refusal: null };
    // The key is made by the store: it is the order.
    await tx.store.add(row as Act);
  }
  await tx.done;
}

export const outbox = {
  all: async (): Promise<Act[]> => (await base()).getAll('outbox'),
  mark: async (seq: number, state: Act['state'], refusal: Refusal | null): Promise<void> => {
    const tx = (await base()).transaction('outbox', 'readwrite');
    const act = await tx.store.get(seq);
    // Gone: the student put it away while it was on its way.
    if (act) await tx.store.put({ ...act, state, refusal });
    await tx.done;
  },
};

export async function removeActs(seqs: readonly number[]): Promise<void> {
  const tx = (await base()).transaction('outbox', 'readwrite');
  for (const seq of seqs) await tx.store.delete(seq);
  await tx.done;
}
