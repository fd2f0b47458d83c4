import { expect, test } from 'vitest';
import { daysToClose, daysToReview, lastDayOf, median, monthsUntil, tally } from './figures.ts';
import type { MonthNote } from './store.ts';

test('twelve months end with the one asked for, over a turn of the year', () => {
  expect(monthsUntil('2026-02', 3)).toEqual(['2025-12', '2026-01', '2026-02']);
  expect(monthsUntil('2026-11')).toHaveLength(12);
  expect([lastDayOf('2026-02'), lastDayOf('2028-02'), lastDayOf('2026-12')]).toEqual(['2026-02-28', '2028-02-29', '2026-12-31']);
});

test('what is named most comes first, what is not named last', () => {
  expect(tally(['spill', null, 'gear', 'spill', '', null], 'none')).toEqual([
    { name: 'spill', count: 2 },
    { name: 'gear', count: 1 },
    { name: 'none', count: 3 },
  ]);
});

test('the middle of an even number lies between the two in the middle; of nothing there is none', () => {
  expect([median([5, 1, 3]), median([4, 1, 3, 2]), median([])]).toEqual([3, 2.5, null]);
});

const at = (day: number) => new Date(Date.UTC(2026, 0, day));
const told = (filed: number, reviewed: number | null) => ({ filedAt: at(filed), reviewedAt: reviewed === null ? null : at(reviewed) }) as MonthNote;
test('days to a review count what was reviewed; the rest waits', () => {
  expect(daysToReview([told(1, 2), told(1, 8), told(3, null)])).toEqual({ median: 4, longest: 7, waiting: 1 });
  // An anonymous note carries midnight of its day: a review of the same moment is no day before it.
  expect(daysToReview([told(5, 4)])).toEqual({ median: 0, longest: 0, waiting: 0 });
});
test('days to the end of a follow-up run to its verification', () => {
  const followUps = [
    { openedAt: at(1), verifiedAt: at(11), overdue: false },
    { openedAt: at(1), verifiedAt: null, overdue: true },
  ];
  expect(daysToClose(followUps)).toEqual({ median: 10, longest: 10, open: 1, overdue: 1 });
});
