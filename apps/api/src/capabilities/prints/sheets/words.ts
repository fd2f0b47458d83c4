/** Making a formatter is slow; a studio has one zone. */
const formatters = new Map<string, Intl.DateTimeFormat>();
function formatterOf(zone: string, what: 'day' | 'time'): Intl.DateTimeFormat {
  const key = `${what} ${zone}`;
  const options =
    what === 'day' ? ({ day: 'numeric', month: 'long', year: 'numeric' } as const) : ({ hour: '2-digit', minute: '2-digit', hourCycle: 'h23' } as const);
  const formatter = formatters.get(key) ?? new Intl.DateTimeFormat('en-GB', { timeZone: zone, ...options });
  formatters.set(key, formatter);
  return formatter;
}

/** "5 December 2026" on the studio's calendar. */
export const dayWords = (at: Date, zone: string): string => formatterOf(zone, 'day').format(at);
/** "5 December 2026, 14:30 (Europe/Lisbon)": a print outlives the screen that told the zone. */
export const timeWords = (at: Date, zone: string): string => `${dayWords(at, zone)}, ${formatterOf(zone, 'time').format(at)} (${zone})`;
/** A calendar day without a zone, "2026-12-05", as "5 December 2026". */
export const plainDay = (day: string): string => dayWords(new Date(`${day}T00:00:00Z`), 'UTC');

/** At most one decimal, and none that is zero. */
export const rounded = (value: number): string => String(Math.round(value * 10) / 10);
export const percent = (value: number): string => `${rounded(value)}\u00a0%`;
export const celsius = (value: number): string => `${rounded(value)}\u00a0°C`;
export const plural = (count: number, one: string, many = `${one}s`): string => `${count}\u00a0${count === 1 ? one : many}`;
