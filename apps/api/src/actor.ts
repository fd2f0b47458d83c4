import type { Role } from '@ashwater/contracts';

/** The studio as every page and rule needs it. */
export type Studio = {
  id: string;
  name: string;
  timeZone: string;
  emergencyPhone: string;
  isDemo: boolean;
  gearMinutes: number;
  jarDays: number;
};

/** A signed-in member of staff. */
export type Staff = { kind: 'staff'; studioId: string; id: string; name: string; email: string; role: Role; sessionId: string };
/** A person at a station, known by the seat's token only. */
export type Seat = { kind: 'seat'; studioId: string; id: string; name: string; classId: string; classStationId: string; signedOut: boolean };
export type Actor = Staff | Seat;

/** How a stored row names who acted: `account:<id>` or `seat:<id>`. */
export const actorKey = (actor: Actor): string => `${actor.kind === 'staff' ? 'account' : 'seat'}:${actor.id}`;
