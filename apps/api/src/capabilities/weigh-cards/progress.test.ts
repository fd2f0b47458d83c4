import type { CardStep, SecondReading } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { DomainProblem } from '../../problems/domain-problem.ts';
import { currentStep, requireFinished, requireStep, requireSupersedes } from './progress.ts';
import type { CardState } from './progress.ts';

const step = (no: number, kind: CardStep['kind'], caustic: boolean): CardStep => ({
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
});
const STEPS = [step(1, 'do', false), step(2, 'weigh', true), step(3, 'label', true)];
const state = (change: Partial<CardState> = {}): CardState => ({
  steps: STEPS,
  doneNos: new Set([1]),
  standing: new Map(),
  gate: { open: true, waitingFor: [] },
  stopped: null,
  classStatus: 'published',
  voided: false,
  seatSignedOut: false,
  ...change,
});
const codeOf = (work: () => unknown) => {
  try {
    work();
    return 'let through';
  } catch (error) {
    return error instanceof DomainProblem ? error.code : error;
  }
};
const CLOSED = { open: false, waitingFor: ['Joss'] };
const STOP = { at: '2026-03-07T10:00:00Z', byName: 'Mira', reason: 'spill' };

test('the next step, with the gate open, is let through', () => {
  expect(requireStep(state(), 2)).toBe(STEPS[1]);
  expect(requireStep(state({ doneNos: new Set(), gate: CLOSED }), 1)).toBe(STEPS[0]);
});

test.each<[string, Partial<CardState>, number, string]>([
  ['the room is stopped', { stopped: STOP }, 2, 'room-stopped'],
  ['the class is a draft', { classStatus: 'draft' }, 2, 'class-not-open'],
  ['the class is closed', { classStatus: 'closed' }, 2, 'class-not-open'],
  ['the card was replaced', { voided: true }, 2, 'card-voided'],
  ['the seat has left', { seatSignedOut: true }, 2, 'seat-signed-out'],
  ['there is no such step', {}, 9, 'not-found'],
  ['the step is done', {}, 1, 'step-out-of-order'],
  ['another step comes first', {}, 3, 'step-out-of-order'],
  ['all is done', { doneNos: new Set([1, 2, 3]) }, 3, 'step-out-of-order'],
  ['somebody’s gear is not signed off', { gate: CLOSED }, 2, 'gear-not-signed'],
])('refused when %s', (_why, change, no, code) => {
  expect(codeOf(() => requireStep(state(change), no))).toBe(code);
});

test('what is most urgent is said first: a stopped room before all else', () => {
  const all = { stopped: STOP, classStatus: 'closed', voided: true, seatSignedOut: true, gate: CLOSED };
  expect(codeOf(() => requireStep(state(all), 3))).toBe('room-stopped');
  expect(codeOf(() => requireStep(state({ ...all, stopped: null }), 3))).toBe('class-not-open');
});

test('a step that wants a reading is finished by one within its range only, a label step by its jar only', () => {
  const standing = (verdict: 'within' | 'under' | 'over', second: SecondReading = 'not needed') =>
    state({ standing: new Map([[2, { id: 'r', verdict, second }]]) });
  expect(codeOf(() => requireFinished(state(), STEPS[1]!))).toBe('reading-off-target');
  expect(codeOf(() => requireFinished(standing('under'), STEPS[1]!))).toBe('reading-off-target');
  expect(codeOf(() => requireFinished(standing('over'), STEPS[1]!))).toBe('reading-off-target');
  expect(codeOf(() => requireFinished(standing('within'), STEPS[1]!))).toBe('let through');
  expect(codeOf(() => requireFinished(standing('within', 'needed'), STEPS[1]!))).toBe('second-reading-needed');
  expect(codeOf(() => requireFinished(standing('within', 'disagrees'), STEPS[1]!))).toBe('second-reading-needed');
  expect(codeOf(() => requireFinished(standing('within', 'agrees'), STEPS[1]!))).toBe('let through');
  expect(codeOf(() => requireFinished(state(), STEPS[2]!))).toBe('jar-needed');
  expect(codeOf(() => requireFinished(state(), STEPS[0]!))).toBe('let through');
});

test('a reading names the one it replaces', () => {
  const standing = state({ standing: new Map([[2, { id: 'r', verdict: 'over', second: 'not needed' }]]) });
  expect(codeOf(() => requireSupersedes(standing, 2, 'r'))).toBe('let through');
  expect(codeOf(() => requireSupersedes(standing, 2, null))).toBe('reading-superseded');
  expect(codeOf(() => requireSupersedes(state(), 2, 'r'))).toBe('reading-superseded');
  expect(codeOf(() => requireSupersedes(state(), 2, null))).toBe('let through');
});

test('the current step is the first that is not done, and none when all are', () => {
  expect(currentStep(state({ doneNos: new Set([2]) }))?.no).toBe(1);
  expect(currentStep(state({ doneNos: new Set([1, 2, 3]) }))).toBeUndefined();
});
