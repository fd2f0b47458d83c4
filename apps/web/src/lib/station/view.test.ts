import { expect, test } from 'vitest';
import type { CardContent, CardStep, ReadingOut, StationView } from '@ashwater/contracts';
import { changesAt, formatTemperature, isGood, mayAsk, nextPath, shownReading, standingReading, stepMgOf, stepName } from './view.ts';

const reading = (id: string, stepNo: number, superseded = false): ReadingOut => ({
  id,
  stepNo,
  entered: '1',
  massMg: 1000,
  temperatureC: null,
  verdict: 'within',
  offBy: 0,
  advice: '',
  at: '2026-12-05T14:30:00Z',
  byName: 'Mo',
  superseded,
});
const withReadings = (...readings: ReadingOut[]) => ({ readings }) as StationView;

test('the reading that counts is the newest of the step that none replaced', () => {
  expect(standingReading(withReadings(reading('a', 2, true), reading('b', 2), reading('c', 3)), 2)?.id).toBe('b');
  expect(standingReading(withReadings(reading('a', 2, true)), 2)).toBeNull();
});

test('a reading lets the step go on within its range, and where a second one is needed only when that agrees', () => {
  expect(isGood(reading('a', 2))).toBe(true);
  expect(isGood({ ...reading('a', 2), second: 'not needed' })).toBe(true);
  expect(isGood({ ...reading('a', 2), second: 'agrees' })).toBe(true);
  expect(isGood({ ...reading('a', 2), second: 'needed' })).toBe(false);
  expect(isGood({ ...reading('a', 2), second: 'disagrees' })).toBe(false);
  expect(isGood({ ...reading('a', 2), verdict: 'over' })).toBe(false);
});

test('a station goes on at its current step, and leaves when none is left', () => {
  expect(nextPath({ currentStepNo: 7 })).toBe('/station/step/7');
  expect(nextPath({ currentStepNo: null })).toBe('/station/finish');
});

test('a space stands between number and unit (SI Brochure, 5.4.3), and it never breaks (ours)', () => {
  expect(formatTemperature(43.46)).toBe('43.5\u00a0°C');
  expect(shownReading({ ...reading('a', 1), massMg: null, temperatureC: 52 }, 1000)).toBe('52\u00a0°C');
  expect(shownReading(reading('a', 1), 1000)).toBe('1\u00a0g');
});

test('the scale step is that of the weighed line, else of the station', () => {
  const content = { scaleStepMg: 1000, lines: [{ key: 'naoh', stepMg: 100 }] } as CardContent;
  expect(stepMgOf(content, { lineKey: 'naoh' } as CardStep)).toBe(100);
  expect(stepMgOf(content, { lineKey: null } as CardStep)).toBe(1000);
});

const change = (id: string, stepNo: number, ...keys: string[]) => ({
  id,
  stepNo,
  act: 'new target' as const,
  words: '',
  at: '2026-12-05T14:30:00Z',
  byName: 'Ada',
  lines: keys.map((key) => ({ key, name: key, wasMg: 1, targetMg: 2 })),
});
const withChanges = (...changes: ReturnType<typeof change>[]) => ({ card: { changes } }) as unknown as StationView;

test('a step shows the last change about it or about what it weighs, and no other', () => {
  const view = withChanges(change('a', 2, 'naoh'), change('b', 6, 'fat:olive'), change('c', 9, 'water'));
  const ids = (no: number, lineKey: string | null) => changesAt(view, { no, lineKey }).map(({ id }) => id);
  expect(ids(6, 'naoh')).toEqual(['b']);
  expect(ids(2, 'fat:olive')).toEqual(['b']);
  expect(ids(101, 'fat:olive')).toEqual(['b']);
  expect(ids(4, 'ice')).toEqual([]);
  expect(ids(1, null)).toEqual([]);
});

test('a step that a change put in goes by what it says, not by its number', () => {
  expect([stepName(7), stepName(101)]).toEqual(['Step 7', 'Added step']);
});

test('the instructor is asked about a mass off target, not about a good one, a temperature or an additive in its own cup', () => {
  const view = {
    card: {
      content: {
        lines: [
          { key: 'naoh', kind: 'naoh' },
          { key: 'additive:0', kind: 'additive' },
        ],
      },
    },
  } as unknown as StationView;
  const step = (kind: string, lineKey: string | null) => ({ no: 2, kind, lineKey }) as CardStep;
  const over = { ...reading('a', 2), verdict: 'over' as const };
  expect(mayAsk(view, step('weigh', 'naoh'), over)).toBe(true);
  expect(mayAsk(view, step('weigh', 'naoh'), reading('a', 2))).toBe(false);
  expect(mayAsk(view, step('weigh', 'naoh'), null)).toBe(false);
  expect(mayAsk(view, step('temperature', null), over)).toBe(false);
  expect(mayAsk(view, step('weigh', 'additive:0'), over)).toBe(false);
});
