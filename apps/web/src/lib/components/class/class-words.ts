import type { ClassOut } from '@ashwater/contracts';

type Status = ClassOut['status'];
const WORDS: Record<Status, string> = { draft: 'In preparation', published: 'Published', closed: 'Closed', cancelled: 'Cancelled' };
const TONES: Record<Status, 'plain' | 'done' | 'waiting'> = { draft: 'waiting', published: 'done', closed: 'plain', cancelled: 'plain' };
export const statusWords = (status: Status): string => WORDS[status];
export const statusTone = (status: Status) => TONES[status];

const HALF_A_DAY_MS = 12 * 3_600_000;
type Timed = { startsAt: string; status: Status };
/** Over: closed or cancelled, or started more than half a day ago (a class that nobody closed). */
export const isOver = ({ startsAt, status }: Timed, now: number): boolean =>
  status === 'closed' || status === 'cancelled' || Date.parse(startsAt) < now - HALF_A_DAY_MS;
/** Published, long past and not closed: its cards still take readings. */
export const wasNotClosed = (item: Timed, now: number): boolean => item.status === 'published' && Date.parse(item.startsAt) < now - HALF_A_DAY_MS;

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
