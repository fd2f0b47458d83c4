/** The day of an instant on the studio's own calendar, as YYYY-MM-DD. */
export function dayIn(timeZone: string, at: Date): string {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).formatToParts(at);
  const part = (type: string) => parts.find((each) => each.type === type)!.value;
  return `${part('year')}-${part('month')}-${part('day')}`;
}

/** The last day on which a jar may be used: so many calendar days after it was made. 14 days is common practice, no source. */
export function discardDay(timeZone: string, madeAt: Date, days: number): string {
  const day = new Date(`${dayIn(timeZone, madeAt)}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() + days);
  return day.toISOString().slice(0, 10);
}
