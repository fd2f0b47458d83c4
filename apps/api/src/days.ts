const DAY_MS = 86_400_000;

/** The day of an instant on the studio's own calendar, as yyyy-mm-dd. */
export function dayIn(timeZone: string, at: Date): string {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).formatToParts(at);
  const part = (type: string) => parts.find((each) => each.type === type)!.value;
  return `${part('year')}-${part('month')}-${part('day')}`;
}

/** The UTC day of an instant, as yyyy-mm-dd: of what may not tell where or when in the day it was written. */
export const utcDay = (at: Date): string => at.toISOString().slice(0, 10);

/** Whole calendar days from one day to another, both yyyy-mm-dd; below 0 when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);

/** The instant at which a calendar day begins in a time zone. `day` is yyyy-mm-dd. */
export function startOfDay(day: string, timeZone: string): Date {
  const utc = Date.parse(`${day}T00:00:00Z`);
  // The zone's offset at that moment, then again at the moment found: right on both sides of a change of the clocks.
  const first = utc - offsetMs(new Date(utc), timeZone);
  return new Date(utc - offsetMs(new Date(first), timeZone));
}

function offsetMs(at: Date, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  }).formatToParts(at);
  const part = (type: string) => Number(parts.find((each) => each.type === type)!.value);
  const local = Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'), part('second'));
  return local - Math.floor(at.getTime() / 1000) * 1000;
}

/** The day after, as yyyy-mm-dd. */
export function dayAfter(day: string): string {
  const next = new Date(`${day}T00:00:00Z`);
  next.setUTCDate(next.getUTCDate() + 1);
  return next.toISOString().slice(0, 10);
}
