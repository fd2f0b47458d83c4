import 'fake-indexeddb/auto';
import { beforeEach, expect, test } from 'vitest';
import type { NewAct } from './act.ts';
import { keepAct, keepSnapshot, keptSnapshot, outbox, removeActs, wipeAllButUnsent } from './store.ts';
import { done, stationView } from './testing.ts';

const newAct = (id: string, seatId = 'seat-1'): NewAct => ({
  id,
  seatId,
  seatName: 'Wren',
  stationName: 'Bench 1',
  classId: 'class-1',
  at: '2026-12-05T14:00:00Z',
  words: '',
  deed: done(1),
});
const snapshot = (seatId: string) => ({ seatId, view: stationView(), savedAt: '2026-12-05T14:00:00Z', aheadMs: 0, awaySince: null });
const ids = async () => (await outbox.all()).map((act) => act.id);
beforeEach(async () => {
  await removeActs((await outbox.all()).map((act) => act.seq));
  await wipeAllButUnsent();
});

test('acts come back in the order they were written, and the same id twice is one act', async () => {
  for (const id of ['b', 'a', 'c', 'a']) await keepAct(newAct(id));
  expect(await ids()).toEqual(['b', 'a', 'c']);
  expect((await outbox.all()).map((act) => act.state)).toEqual(['waiting', 'waiting', 'waiting']);
});

test('an act that was put away while it was on its way does not come back', async () => {
  await keepAct(newAct('a'));
  const [act] = await outbox.all();
  await removeActs([act!.seq]);
  await outbox.mark(act!.seq, 'sent', null);
  expect(await ids()).toEqual([]);
});

test('a new seat on the device finds neither card nor sent acts of the one before; unsent ones stay under their seat', async () => {
  await keepSnapshot(snapshot('seat-1'));
  for (const id of ['sent', 'unsent']) await keepAct(newAct(id));
  await outbox.mark((await outbox.all())[0]!.seq, 'sent', null);
  await keepSnapshot(snapshot('seat-2'));
  expect((await keptSnapshot())?.seatId).toBe('seat-2');
  expect((await outbox.all()).map((act) => [act.id, act.seatId])).toEqual([['unsent', 'seat-1']]);
});

test('sent acts of the own seat go only when a view was asked for after them', async () => {
  await keepAct(newAct('a'));
  await keepAct(newAct('b'));
  const [a, b] = await outbox.all();
  await outbox.mark(a!.seq, 'sent', null);
  await outbox.mark(b!.seq, 'sent', null);
  await keepSnapshot(snapshot('seat-1'));
  expect(await ids()).toEqual(['a', 'b']);
  await keepSnapshot(snapshot('seat-1'), [a!.seq]);
  expect(await ids()).toEqual(['b']);
});

test('after signing out the device holds nothing but what was never sent', async () => {
  await keepSnapshot(snapshot('seat-1'));
  await keepAct(newAct('a'));
  await keepAct(newAct('b'));
  await outbox.mark((await outbox.all())[0]!.seq, 'sent', null);
  await wipeAllButUnsent();
  expect(await keptSnapshot()).toBeNull();
  expect(await ids()).toEqual(['b']);
});
