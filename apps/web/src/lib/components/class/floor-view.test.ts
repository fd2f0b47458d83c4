import { describe, expect, test } from 'vitest';
import { allHome, callsOf, gearWords, rollCall, wallState } from './floor-view.ts';

type Station = Parameters<typeof callsOf>[0][number];
type Seat = Station['seats'][number];
const gear = (status: Seat['gear']['status']): Seat['gear'] => ({
  status,
  confirmed: ['goggles'],
  countersignedBy: status === 'signed' ? 'Mo' : null,
  validUntil: null,
  lapseReason: status === 'lapsed' ? 'torn glove' : null,
});
const seat = (name: string, status: Seat['gear']['status'], signedOut = false): Seat => ({
  id: name,
  name,
  gear: gear(status),
  gearTotal: 7,
  signedOut,
  kind: 'student',
  noDevice: false,
});
const station = (name: string, parts: Partial<Station>): Station => ({
  id: name,
  name,
  joinCode: 'ACDEFG',
  cardId: null,
  cardNumber: null,
  seats: [],
  gear: [],
  gateOpen: false,
  stepNo: 3,
  stepCount: 12,
  stepTitle: 'Weigh',
  temperature: null,
  lastReading: null,
  secondReading: null,
  jarNumber: null,
  strayStepNo: null,
  alarms: [],
  ...parts,
});

const of = (stations: Station[], containersOut: string[] = []) => ({ stations, containersOut });

describe('the floor', () => {
  test('calls alarms first, then each person who waits; whoever signed out waits for nothing', () => {
    const calls = callsOf([
      station('1', {}),
      station('2', { seats: [seat('Ana', 'waiting'), seat('Cy', 'confirming')] }),
      station('3', { alarms: ['over', 'lapsed'] }),
      station('5', { secondReading: { readingId: 'r', what: 'Weigh', byName: 'Eva' } }),
      station('4', { seats: [seat('Ben', 'waiting', true)] }),
    ]);
    expect(calls).toEqual([
      { stationId: '3', kind: 'alarm', words: 'Alarm: 3' },
      { stationId: '5', kind: 'waiting', words: 'Read the scale: 5' },
      { stationId: '2', kind: 'waiting', words: 'Look and sign: Ana, 2' },
    ]);
  });

  test('counts nobody home while a jar, a step or a person is open', () => {
    const open = rollCall(of([station('1', { seats: [seat('Ana', 'signed'), seat('Ben', 'signed', true)] }), station('2', {})]));
    expect(open).toEqual({ people: 2, signedOut: 1, stationsUsed: 1, jars: 0, stepsLeft: ['1'], jarsMissing: ['1'], stillHere: ['Ana'], containersOut: [] });
    expect(allHome(open)).toBe(false);
    const home = [station('1', { stepNo: null, jarNumber: 'J-0001', seats: [seat('Ana', 'signed', true)] }), station('2', {})];
    expect(allHome(rollCall(of(home)))).toBe(true);
    const out = rollCall(of(home, ['R-1', 'R-1']));
    expect([allHome(out), out.containersOut]).toEqual([false, ['R-1']]);
  });

  test('says the state of gear in words', () => {
    expect(gearWords(gear('confirming'), 7)).toBe('1 of 7 things confirmed');
    expect(gearWords(gear('signed'), 7)).toBe('Signed off by Mo');
    expect(gearWords(gear('lapsed'), 7)).toBe('Sign-off ended: torn glove');
  });

  test('the wall says the most urgent thing of a station', () => {
    const ana = { seats: [seat('Ana', 'signed')], gateOpen: true };
    expect(wallState(station('1', {}))).toEqual({ mark: 'empty', words: 'Nobody here' });
    expect(wallState(station('1', { seats: [seat('Ana', 'confirming')] }))).toEqual({ mark: 'empty', words: 'Gear not signed' });
    expect(wallState(station('1', ana))).toEqual({ mark: 'go', words: 'Gear signed' });
    expect(wallState(station('1', { seats: [seat('Ana', 'waiting')] }))).toEqual({ mark: 'wait', words: 'Look and sign' });
    expect(wallState(station('1', { ...ana, secondReading: { readingId: 'r', what: 'Weigh', byName: 'Ana' } })).words).toBe('Second reading');
    expect(wallState(station('1', { ...ana, stepNo: null }))).toEqual({ mark: 'done', words: 'Done' });
    expect(wallState(station('1', { ...ana, alarms: ['x'], strayStepNo: 3 }))).toEqual({ mark: 'alarm', words: 'Reading off target' });
    expect(wallState(station('1', { seats: [seat('Ana', 'lapsed')], alarms: ['x'] })).words).toBe('Gear missing');
  });
});
