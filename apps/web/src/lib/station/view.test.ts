import { expect, test } from 'vitest';
import type { CardContent, CardStep, ReadingOut, StationView } from '@ashwater/contracts';
import { formatTemperature, nextPath, shownReading, standingReading, stepMgOf } from './view.ts';

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
