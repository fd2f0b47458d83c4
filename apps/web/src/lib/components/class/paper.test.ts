import type { CardStep } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { linesOf, stepsLeft } from './paper.ts';

const typed = (values: Record<string, string>, stepNo: number | null = 1) =>
  linesOf(
    (name) => values[name] ?? '',
    stepNo,
    (part) => `id ${part}`,
  );

test('lines are taken in the card’s order, up to the first gap', () => {
  const lines = typed({ order: '1 2 5 6', 'done/1': 'on', 'entered/2': ' 141 ', 'entered/6': '9' });
  expect(lines).toEqual([
    { id: 'id r1', stepNo: 1, entered: '', second: null },
    { id: 'id r2', stepNo: 2, entered: '141', second: null },
  ]);
  expect(typed({ order: '1 2', 'entered/2': '141' })).toEqual([]);
});

test('what an earlier try entered is not sent again', () => {
  const values = { order: '1 2 3', 'done/1': 'on', 'entered/2': '141', 'entered/3': '9' };
  expect(typed(values, 2).map((line) => line.stepNo)).toEqual([2, 3]);
  expect(typed(values, null)).toEqual([]);
});

test('a second reading goes with its name', () => {
  const [line] = typed({ order: '5', 'entered/5': '72', 'second/5': '72', 'by/5': 'Bea ' }, 5);
  expect(line).toEqual({ id: 'id r5', stepNo: 5, entered: '72', second: { id: 'id s5', entered: '72', byName: 'Bea' } });
});

test('what is left of a card begins at the step whose turn it is, added steps in their place', () => {
  const steps = [1, 2, 101, 3].map((no) => ({ no }) as CardStep);
  expect(stepsLeft({ steps }, 2).map((step) => step.no)).toEqual([2, 101, 3]);
  expect(stepsLeft({ steps }, null)).toEqual([]);
});
