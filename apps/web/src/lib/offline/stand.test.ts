import { expect, test } from 'vitest';
import { asItStands } from './stand.ts';
import { actOf, done, read, refusal, SEEN_AT, stationView, VALID_UNTIL } from './testing.ts';

const early = Date.parse(SEEN_AT);
const late = Date.parse(VALID_UNTIL);

test('own readings and steps move the card on, with the verdict at once', () => {
  const acts = [actOf(1, done(1)), actOf(2, read(2, '139')), actOf(3, read(2, '141', 'id-2')), actOf(4, done(2))];
  const view = asItStands(stationView(), acts, early);
  expect(view.currentStepNo).toBe(3);
  expect(view.readings.map((each) => [each.id, each.verdict, each.superseded])).toEqual([
    ['id-2', 'under', true],
    ['id-3', 'within', false],
  ]);
});

test('an act that the service showed already counts once', () => {
  const seen = asItStands(stationView(), [actOf(1, done(1)), actOf(2, read(2, '141'))], early);
  const again = asItStands(seen, [actOf(1, done(1), { state: 'sent' }), actOf(2, read(2, '141'), { state: 'sent' })], early);
  expect(again).toEqual(seen);
});

test('what was refused, what hangs on it, and what another seat wrote, count for nothing', () => {
  const acts = [actOf(1, done(1), { state: 'refused', refusal: refusal('card-voided') }), actOf(2, read(2, '141')), actOf(3, done(1), { seatId: 'seat-2' })];
  expect(asItStands(stationView(), acts, early)).toMatchObject({ currentStepNo: 1, readings: [], done: [] });
});

test('an act on a card that was replaced does not move the new one', () => {
  const view = stationView();
  const moved = asItStands({ ...view, card: { ...view.card, id: 'card-2' } }, [actOf(1, done(1))], early);
  expect(moved.currentStepNo).toBe(1);
});

test('a stop written here freezes this station; the earlier stop keeps its name', () => {
  const stop = actOf(1, { kind: 'stop', reason: 'smoke' });
  expect(asItStands(stationView(), [stop], early).stopped).toEqual({ at: SEEN_AT, byName: 'Wren', reason: 'smoke' });
  const earlier = { at: SEEN_AT, byName: 'Kit', reason: '' };
  expect(asItStands(stationView({ stopped: earlier }), [stop], early).stopped).toEqual(earlier);
});

test('a sign-off that runs out shuts caustic at that instant, and the gear is confirmed anew', () => {
  expect(asItStands(stationView(), [], late - 1).gate.open).toBe(true);
  const over = asItStands(stationView(), [], late);
  expect(over.gate).toEqual({ open: false, waitingFor: ['Wren'] });
  expect(over.gear).toMatchObject({ status: 'lapsed', confirmed: [], countersignedBy: null, validUntil: null });
});

test('a partner’s sign-off that runs out shuts caustic for both, at the instant the service told', () => {
  const gate = { open: true, waitingFor: [], until: '2026-12-05T15:00:00.000Z' };
  const until = Date.parse(gate.until);
  expect(asItStands(stationView({ gate }), [], until - 1).gate.open).toBe(true);
  expect(asItStands(stationView({ gate }), [], until)).toMatchObject({ gate: { open: false, waitingFor: ['your partner'] }, gear: { status: 'signed' } });
});

test('confirming everything again without network waits for the second person and opens nothing', () => {
  const gear = ['goggles', 'gloves'].map((itemKey, n) => actOf(n + 1, { kind: 'gear', itemKey }, { at: VALID_UNTIL }));
  expect(asItStands(stationView(), gear, late + 60_000)).toMatchObject({ gear: { status: 'waiting' }, gate: { open: false } });
  const before = gear.map((act) => ({ ...act, at: SEEN_AT }));
  expect(asItStands(stationView(), before, late + 60_000).gear.confirmed).toEqual([]);
});

test('a gate that was shut when last seen stays shut whatever is confirmed here', () => {
  const gear = { status: 'none' as const, confirmed: [], countersignedBy: null, validUntil: null, lapseReason: null };
  const shut = stationView({ gear, gate: { open: false, waitingFor: ['Wren', 'Kit'] } });
  const acts = ['goggles', 'gloves'].map((itemKey, n) => actOf(n + 1, { kind: 'gear', itemKey }));
  expect(asItStands(shut, acts, early)).toMatchObject({ gear: { status: 'waiting' }, gate: { open: false, waitingFor: ['Wren', 'Kit'] } });
});
