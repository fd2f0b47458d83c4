import { dayIn } from '../../days.ts';

/** The last day on which a jar may be used: so many calendar days after it was made. 14 days is common practice, no source. */
export function discardDay(timeZone: string, madeAt: Date, days: number): string {
  const day = new Date(`${dayIn(timeZone, madeAt)}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() + days);
  return day.toISOString().slice(0, 10);
}
