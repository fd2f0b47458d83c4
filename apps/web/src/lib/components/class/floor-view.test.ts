import { describe, expect, test } from 'vitest';
import { allHome, callsOf, gearWords, rollCall } from './floor-view.ts';

type Station = Parameters<typeof callsOf>[0][number];
type Seat = Station['seats'][number];
const gear = (status: Seat['gear']['status']): Seat['gear'] => ({
  status,
  confirmed: ['goggles'],
  countersignedBy: status === 'signed' ? 'Mo' : null,
  validUntil: null,
  lapseReason: status === 'lapsed' ? 'torn glove' : null,
});
const seat = (name: string, status: Seat['gear']['status'], signedOut = false): Seat => ({ id: name, name, gear: gear(status), gearTotal: 7, signedOut });
const station = (name: string, parts: Partial<Station>): Station => ({
  id: name,
  name,
  joinCode: 'ACDEFG',
  cardId: null,
  cardNumber: null,
  seats: [],
  gateOpen: false,
  stepNo: 3,
  stepCount: 12,
  stepTitle: 'Weigh',
  lastReading: null,
  jarNumber: null,
  strayStepNo: null,
  alarms: [],
  ...parts,
});

describe('the floor', () => {
  test('calls alarms first, then each person who waits; whoever signed out waits for nothing', () => {
    const calls = callsOf([
      station('1', {}),
      station('2', { seats: [seat('Ana', 'waiting'), seat('Cy', 'confirming')] }),
      station('3', { alarms: ['over', 'lapsed'] }),
      station('4', { seats: [seat('Ben', 'waiting', true)] }),
    ]);
    expect(calls).toEqual([
      { stationId: '3', kind: 'alarm', words: 'Alarm: 3' },
      { stationId: '2', kind: 'waiting', words: 'Ana, 2' },
    ]);
  });

  test('counts nobody home while a jar, a step or a person is open', () => {
    const open = rollCall([station('1', { seats: [seat('Ana', 'signed'), seat('Ben', 'signed', true)] }), station('2', {})]);
    expect(open).toEqual({ people: 2, signedOut: 1, stationsUsed: 1, jars: 0, stepsLeft: ['1'], jarsMissing: ['1'], stillHere: ['Ana'] });
    expect(allHome(open)).toBe(false);
    expect(allHome(rollCall([station('1', { stepNo: null, jarNumber: 'J-0001', seats: [seat('Ana', 'signed', true)] }), station('2', {})]))).toBe(true);
  });

  test('says the state of gear in words', () => {
    expect(gearWords(gear('confirming'), 7)).toBe('1 of 7 things confirmed');
    expect(gearWords(gear('signed'), 7)).toBe('Signed off by Mo');
    expect(gearWords(gear('lapsed'), 7)).toBe('Sign-off ended: torn glove');
  });
});
