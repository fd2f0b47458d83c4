import { expect, test } from 'vitest';
import { ticksUpTo } from './chart-scale.ts';

test.each([
  [0, [0]],
  [1000, [0, 500, 1000]],
  [4, [0, 1, 2, 3, 4]],
  [2_350_000, [0, 1_000_000, 2_000_000, 3_000_000]],
  [0.9, [0, 0.5, 1]],
])('ticks up to %d', (most, ticks) => {
  expect(ticksUpTo(most)).toEqual(ticks);
});
