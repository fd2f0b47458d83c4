import { expect, test } from 'vitest';
import { ageWords, isStale } from './wall-age.ts';

test('the age of what the wall shows, in words that read from far away', () => {
  expect([0, 7_400, 59_999, 60_000, 125_000, 3_840_000, -5].map(ageWords)).toEqual([
    '0\u00a0s',
    '7\u00a0s',
    '59\u00a0s',
    '1\u00a0min 00\u00a0s',
    '2\u00a0min 05\u00a0s',
    '1\u00a0h 04\u00a0min',
    '0\u00a0s',
  ]);
});

test('three unanswered questions make it old', () => {
  expect([isStale(15_000), isStale(15_001)]).toEqual([false, true]);
});
