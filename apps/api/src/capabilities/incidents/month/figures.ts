import type { MonthReview } from '@ashwater/contracts';
import type { MonthNote } from './store.ts';

/** The twelve months that end with this one, oldest first, as yyyy-mm. */
export function monthsUntil(month: string, count = 12): string[] {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return Array.from({ length: count }, (_, back) => {
    const at = new Date(Date.UTC(year, number - 1 - (count - 1 - back), 1));
    return at.toISOString().slice(0, 7);
  });
}

export const lastDayOf = (month: string): string => {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return new Date(Date.UTC(year, number, 0)).toISOString().slice(0, 10);
};

/** How often each name stands there, the most frequent first; nameless ones last as `none`. */
export function tally(names: readonly (string | null | undefined)[], none: string): MonthReview['byCategory'] {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name || none, (counts.get(name || none) ?? 0) + 1);
  return [...counts]
    .map(([name, count]) => ({ name, count }))
    .sort((a, b) => Number(a.name === none) - Number(b.name === none) || b.count - a.count || a.name.localeCompare(b.name));
}

export function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

const DAY_MS = 86_400_000;
const days = (from: Date, to: Date): number => Math.max(0, (to.getTime() - from.getTime()) / DAY_MS);

export function daysToReview(notes: readonly MonthNote[]): MonthReview['daysToReview'] {
  const taken = notes.flatMap(({ filedAt, reviewedAt }) => (reviewedAt ? [days(filedAt, reviewedAt)] : []));
  return { median: median(taken), longest: taken.length === 0 ? null : Math.max(...taken), waiting: notes.length - taken.length };
}

type Closing = { openedAt: Date; verifiedAt: Date | null; overdue: boolean };
export function daysToClose(followUps: readonly Closing[]): MonthReview['daysToClose'] {
  const taken = followUps.flatMap(({ openedAt, verifiedAt }) => (verifiedAt ? [days(openedAt, verifiedAt)] : []));
  return {
    median: median(taken),
    longest: taken.length === 0 ? null : Math.max(...taken),
    open: followUps.length - taken.length,
    overdue: followUps.filter(({ overdue }) => overdue).length,
  };
}
