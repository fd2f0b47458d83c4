/** Days since 1970-01-01 of "2026-03-31", or undefined for text that is no day of the calendar. */
function dayNumber(text: string): number | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/u.exec(text);
  if (!match) return undefined;
  const ms = Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3]));
  return new Date(ms).toISOString().startsWith(text) ? ms / 86_400_000 : undefined;
}

/** Whole days from one day to another (ISO 8601 calendar dates); undefined if either is no day. */
export function ageInDays(from: string, to: string): number | undefined {
  const start = dayNumber(from);
  const end = dayNumber(to);
  return start === undefined || end === undefined ? undefined : end - start;
}
