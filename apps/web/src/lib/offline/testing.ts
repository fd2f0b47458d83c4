import type { CardStep, StationView } from '@ashwater/contracts';
import type { Act, Deed } from './act.ts';

const step = (no: number, kind: CardStep['kind'], caustic: boolean, more: Partial<CardStep> = {}): CardStep => ({
  no,
  kind,
  caustic,
  title: `Step ${no}`,
  instruction: '',
  reason: '',
  caution: null,
  lineKey: null,
  targetMg: null,
  acceptLowMg: null,
  acceptHighMg: null,
  lowC: null,
  highC: null,
  ...more,
});
const range = { targetMg: 141_000, acceptLowMg: 140_500, acceptHighMg: 141_500 };

/** A small card for tests: clear, weigh a fat, weigh the alkali (caustic), take a temperature (caustic), label, clean. */
export const STEPS: CardStep[] = [
  step(1, 'do', false),
  step(2, 'weigh', false, { lineKey: 'fat:olive', ...range }),
  step(3, 'weigh', true, { lineKey: 'naoh', ...range }),
  step(4, 'temperature', true, { lowC: 25, highC: 40 }),
  step(5, 'label', true),
  step(6, 'clean', false),
];
const line = (key: string, kind: 'fat' | 'naoh', name: string) => ({ key, kind, name, exactMg: 141_000, stepMg: 1000, ...range });

export const SEEN_AT = '2026-12-05T14:00:00.000Z';
export const VALID_UNTIL = '2026-12-05T15:30:00.000Z';

/** A station as the service shows it, with only what the offline part reads. */
export function stationView(changes: Partial<StationView> = {}): StationView {
  const gear = [
    { key: 'goggles', name: 'Goggles', check: '' },
    { key: 'gloves', name: 'Gloves', check: '' },
  ];
  const lines = [line('fat:olive', 'fat', 'Olive oil'), line('naoh', 'naoh', 'Sodium hydroxide')];
  const content = { stationName: 'Bench 1', scaleStepMg: 1000, lines, steps: STEPS, gear };
  return {
    classId: 'class-1',
    classClosed: false,
    stationName: 'Bench 1',
    stopped: null,
    seat: { id: 'seat-1', name: 'Wren' },
    card: { id: 'card-1', number: 'W-0001', issue: 1, voided: false, content },
    gear: { status: 'signed', confirmed: ['goggles', 'gloves'], countersignedBy: 'Alma', validUntil: VALID_UNTIL, lapseReason: null },
    gate: { open: true, waitingFor: [] },
    currentStepNo: 1,
    done: [],
    readings: [],
    jar: null,
    ...changes,
  } as StationView;
}

export function actOf(seq: number, deed: Deed, changes: Partial<Act> = {}): Act {
  const base = { id: `id-${String(seq)}`, seatId: 'seat-1', seatName: 'Wren', stationName: 'Bench 1', classId: 'class-1', at: SEEN_AT, words: '' };
  return { ...base, deed, seq, state: 'waiting', refusal: null, ...changes };
}
export const done = (stepNo: number): Deed => ({ kind: 'done', cardId: 'card-1', stepNo });
export const read = (stepNo: number, entered: string, supersedesId: string | null = null): Deed => ({
  kind: 'reading',
  cardId: 'card-1',
  stepNo,
  entered,
  supersedesId,
});
export const refusal = (code: string) => ({ code, title: code, detail: '' });
