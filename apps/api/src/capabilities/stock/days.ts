const DAY_MS = 86_400_000;

/** The day of an instant on the studio's own calendar, as yyyy-mm-dd. */
export function dayIn(timeZone: string, at: Date): string {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).formatToParts(at);
  const part = (type: string) => parts.find((each) => each.type === type)!.value;
  return `${part('year')}-${part('month')}-${part('day')}`;
}

/** Whole calendar days from one day to another, both yyyy-mm-dd; below 0 when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);
