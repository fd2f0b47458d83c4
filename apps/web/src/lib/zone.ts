/**
 * Wall time in an IANA zone to an instant and back. A wall time is "2026-12-05T14:30", as a `datetime-local` field
 * holds it; an instant is an ISO 8601 string in UTC. Rules come from the time zone data of the JavaScript engine.
 */
export type WallInstant =
  | { kind: 'once'; at: string }
  /** Clocks go back: the wall time comes twice; `at` is the first. */
  | { kind: 'twice'; at: string; second: string }
  /** Clocks go forward over it: nobody's clock shows this time. */
  | { kind: 'never' }
  | { kind: 'unreadable' };

const WALL = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::00(?:\.0+)?)?$/;
const DAY_MS = 86_400_000;

/** Making a formatter is slow; a service meets few zones. */
const formatters = new Map<string, Intl.DateTimeFormat>();
function formatterOf(zone: string): Intl.DateTimeFormat {
  const two = '2-digit';
  const options = { timeZone: zone, calendar: 'iso8601', hourCycle: 'h23', year: 'numeric', month: two, day: two, hour: two, minute: two } as const;
  const formatter = formatters.get(zone) ?? new Intl.DateTimeFormat('en-CA', options);
  formatters.set(zone, formatter);
  return formatter;
}

/** The wall time an instant shows in the zone, to the minute. */
export function wallOf(at: string, zone: string): string {
  const parts = formatterOf(zone).formatToParts(new Date(at));
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.find((each) => each.type === type)?.value ?? '';
  return `${part('year').padStart(4, '0')}-${part('month')}-${part('day')}T${part('hour')}:${part('minute')}`;
}

const asUtc = (wall: string): number => Date.parse(`${wall}:00Z`);

/** Every instant that shows this wall time in the zone. */
export function instantOf(wall: string, zone: string): WallInstant {
  if (!WALL.test(wall)) return { kind: 'unreadable' };
  const minute = wall.slice(0, 16);
  const local = asUtc(minute);
  // A day that no calendar has (31 June) is either refused or carried over by Date.parse: neither is what was typed.
  if (Number.isNaN(local) || new Date(local).toISOString().slice(0, 16) !== minute) return { kind: 'unreadable' };
  // The zone's offsets a day before and a day after: around a change these are the two in question.
  const offsets = [-DAY_MS, 0, DAY_MS].map((shift) => asUtc(wallOf(new Date(local + shift).toISOString(), zone)) - (local + shift));
  const found = [...new Set(offsets)]
    .map((offset) => new Date(local - offset).toISOString())
    .filter((at) => wallOf(at, zone) === minute)
    .sort();
  const [at, second] = found;
  if (at === undefined) return { kind: 'never' };
  return second === undefined ? { kind: 'once', at } : { kind: 'twice', at, second };
}

/** "Europe/London" as words: "London". */
export const zoneWords = (zone: string): string => (zone.split('/').at(-1) ?? zone).replaceAll('_', ' ');
