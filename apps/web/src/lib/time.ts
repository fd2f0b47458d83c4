const parts = (zone: string, options: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat('en-GB', { timeZone: zone, ...options });

/** "5 December 2026" in an IANA zone. */
export function dayOf(at: string, zone: string): string {
  return parts(zone, { day: 'numeric', month: 'long', year: 'numeric' }).format(new Date(at));
}

/** "14:30" in an IANA zone. */
export function timeOf(at: string, zone: string): string {
  return parts(zone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(new Date(at));
}

export const dayAndTime = (at: string, zone: string): string => `${dayOf(at, zone)}, ${timeOf(at, zone)}`;

/** A calendar day without a zone, "2026-12-05", as "5 December 2026". */
export const plainDay = (day: string): string => dayOf(`${day}T00:00:00Z`, 'UTC');
