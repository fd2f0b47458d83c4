import fc from 'fast-check';
import { expect, test } from 'vitest';
import { gearState, stationGate, TIME_LIMIT_REASON } from './gate.ts';
import type { GearAct, SeatGear } from './gate.ts';

const ITEMS = ['goggles', 'gloves'];
const at = (minute: number) => new Date(Date.UTC(2026, 2, 7, 10, minute));
const confirmed = (itemKey: string, minute = 0): GearAct => ({ kind: 'confirmed', itemKey, at: at(minute) });
const signed = (minute: number, until: number): GearAct => ({ kind: 'countersigned', byName: 'Ada', at: at(minute), validUntil: at(until) });
const lapsed = (minute: number): GearAct => ({ kind: 'lapsed', reason: 'torn glove', at: at(minute) });
const both = [confirmed('goggles'), confirmed('gloves')];

test('from nothing to signed, one thing at a time', () => {
  const states = [[], both.slice(0, 1), both, [...both, signed(1, 30)]].map((acts) => gearState(acts, ITEMS, at(2)).status);
  expect(states).toEqual(['none', 'confirming', 'waiting', 'signed']);
});

test('a sign-off holds up to its last minute and not at it', () => {
  const acts = [...both, signed(1, 30)];
  expect(gearState(acts, ITEMS, new Date(at(30).getTime() - 1))).toMatchObject({
    status: 'signed',
    countersignedBy: 'Ada',
    validUntil: at(30).toISOString(),
    lapseReason: null,
  });
  expect(gearState(acts, ITEMS, at(30))).toEqual({ status: 'lapsed', confirmed: [], countersignedBy: null, validUntil: null, lapseReason: TIME_LIMIT_REASON });
});

test('after a lapse every item is confirmed again before anybody can sign', () => {
  const acts = [...both, signed(1, 30), lapsed(5)];
  expect(gearState(acts, ITEMS, at(6))).toMatchObject({ status: 'lapsed', confirmed: [], lapseReason: 'torn glove' });
  expect(gearState([...acts, confirmed('gloves', 7)], ITEMS, at(8))).toMatchObject({ status: 'confirming', confirmed: ['gloves'] });
  expect(gearState([...acts, ...both, signed(9, 60)], ITEMS, at(10))).toMatchObject({ status: 'signed', lapseReason: null });
  // what was confirmed before the time ran out is gone too
  expect(gearState([...both, signed(1, 30), confirmed('goggles', 31)], ITEMS, at(32))).toMatchObject({ status: 'confirming', confirmed: ['goggles'] });
});

test('a countersignature over missing items opens nothing; an item of another list counts for nothing', () => {
  expect(gearState([confirmed('goggles'), signed(1, 30)], ITEMS, at(2)).status).not.toBe('signed');
  expect(gearState([confirmed('hat'), confirmed('goggles')], ITEMS, at(2)).confirmed).toEqual(['goggles']);
});

test('whatever was done, "signed" means: all items confirmed and countersigned after the last lapse, and the time not over', () => {
  const act = fc.oneof(
    fc.constantFrom(...ITEMS).map((item) => ({ kind: 'confirmed' as const, item })),
    fc.integer({ min: 1, max: 20 }).map((length) => ({ kind: 'countersigned' as const, length })),
    fc.constant({ kind: 'lapsed' as const }),
  );
  fc.assert(
    fc.property(fc.array(act, { maxLength: 25 }), fc.nat({ max: 30 }), (acts, later) => {
      const told = acts.map((each, minute): GearAct =>
        each.kind === 'confirmed' ? confirmed(each.item, minute) : each.kind === 'lapsed' ? lapsed(minute) : signed(minute, minute + each.length),
      );
      const now = at(acts.length + later);
      const last = told.findLastIndex((each) => each.kind === 'lapsed');
      const since = told.slice(last + 1);
      const holding = since.some((each) => each.kind === 'countersigned' && each.validUntil > now);
      const all = ITEMS.every((item) => since.some((each) => each.kind === 'confirmed' && each.itemKey === item));
      if (gearState(told, ITEMS, now).status === 'signed') expect([holding, all]).toEqual([true, true]);
    }),
  );
});

const seat = (name: string, status: SeatGear['gear']['status'], signedOut = false): SeatGear => ({
  name,
  signedOut,
  gear: { status, confirmed: [], countersignedBy: null, validUntil: null, lapseReason: null },
});
test('a station is open only while somebody is there and everybody there is signed off', () => {
  expect(stationGate([])).toEqual({ open: false, waitingFor: [] });
  expect(stationGate([seat('Mira', 'signed', true)])).toEqual({ open: false, waitingFor: [] });
  expect(stationGate([seat('Mira', 'signed'), seat('Joss', 'none', true)])).toEqual({ open: true, waitingFor: [] });
  for (const status of ['none', 'confirming', 'waiting', 'lapsed'] as const)
    expect(stationGate([seat('Mira', 'signed'), seat('Joss', status)])).toEqual({ open: false, waitingFor: ['Joss'] });
});
