import { expect, test } from 'vitest';
import { heldBy, nextToSend, withHeld } from './hold.ts';
import { actOf, done, read, refusal } from './testing.ts';

const refused = (code: string) => actOf(1, read(3, '141'), { state: 'refused', refusal: refusal(code) });
const later = [actOf(2, done(3)), actOf(3, read(4, '30')), actOf(4, { kind: 'gear', itemKey: 'gloves' }), actOf(5, done(3), { seatId: 'seat-2' })];

test('where a partner did the step, what hangs on it stays and the next step goes on', () => {
  const acts = [refused('step-out-of-order'), ...later];
  expect(acts.map((act) => heldBy(act, acts)?.seq ?? null)).toEqual([null, 1, null, null, null]);
  expect(nextToSend(acts, 'seat-1')?.seq).toBe(3);
});

test.each(['gear-not-signed', 'room-stopped', 'card-voided', 'reading-superseded'])('after %s nothing later of the card is tried, the rest is', (code) => {
  const acts = [refused(code), ...later];
  expect(acts.map((act) => heldBy(act, acts)?.seq ?? null)).toEqual([null, 1, 1, null, null]);
  expect(nextToSend(acts, 'seat-1')?.seq).toBe(4);
  expect(withHeld(acts[0]!, acts).map((act) => act.seq)).toEqual([1, 2, 3]);
});

test('another seat’s acts are never sent as mine, and the oldest goes first', () => {
  const acts = [actOf(9, done(2)), actOf(4, read(2, '141')), actOf(1, done(1), { seatId: 'seat-2' }), actOf(2, done(1), { state: 'sent' })];
  expect(nextToSend(acts, 'seat-1')?.seq).toBe(4);
  expect(nextToSend(acts, 'seat-2')?.seq).toBe(1);
  expect(nextToSend(acts, 'seat-3')).toBeNull();
});
