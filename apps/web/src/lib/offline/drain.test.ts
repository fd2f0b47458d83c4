import { expect, test } from 'vitest';
import type { Act, Refusal } from './act.ts';
import { drain } from './drain.ts';
import type { Answer } from './drain.ts';
import { actOf, done, read, refusal } from './testing.ts';

function boxOf(acts: Act[]) {
  return {
    all: async () => structuredClone(acts),
    mark: async (seq: number, state: Act['state'], why: Refusal | null) =>
      void Object.assign(
        acts.find((act) => act.seq === seq)!,
        { state, refusal: why },
      ),
  };
}
async function drained(acts: Act[], answers: Record<string, Answer>) {
  const tried: string[] = [];
  const result = await drain(boxOf(acts), 'seat-1', async (act) => {
    tried.push(act.id);
    return answers[act.id] ?? { kind: 'taken' };
  });
  return { result, tried, states: acts.map((act) => act.state) };
}

test('the first try without an answer ends the round, says so, and changes nothing', async () => {
  const acts = [actOf(1, done(1)), actOf(2, read(2, '141')), actOf(3, done(2))];
  expect(await drained(acts, { 'id-2': { kind: 'none' } })).toEqual({
    result: { end: 'no-link', sent: 1 },
    tried: ['id-1', 'id-2'],
    states: ['sent', 'waiting', 'waiting'],
  });
});

test('a refused act keeps the service’s words; what hangs on it stays, the rest is sent', async () => {
  const acts = [actOf(1, read(2, '141')), actOf(2, done(2)), actOf(3, { kind: 'gear', itemKey: 'gloves' })];
  const why = refusal('room-stopped');
  const { result, tried, states } = await drained(acts, { 'id-1': { kind: 'refused', refusal: why } });
  expect([result, tried, states]).toEqual([{ end: 'quiet', sent: 2 }, ['id-1', 'id-3'], ['refused', 'waiting', 'sent']]);
  expect(acts[0]!.refusal).toEqual(why);
});
