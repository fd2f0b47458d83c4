import { z } from 'zod';
import { Id, Instant, Line, Name } from './basics.ts';

export const GearItem = z.object({ key: z.string(), name: z.string(), check: z.string().describe('what the wearer looks at') });
export type GearItem = z.infer<typeof GearItem>;

/** none: nothing confirmed; confirming: some items; waiting: all items, no second person yet; signed: gate open for this seat; lapsed: was signed. */
export const GearStatus = z.enum(['none', 'confirming', 'waiting', 'signed', 'lapsed']);
export const GearState = z.object({
  status: GearStatus,
  confirmed: z.array(z.string()),
  countersignedBy: z.string().nullable(),
  validUntil: Instant.nullable(),
  lapseReason: z.string().nullable(),
});
export type GearState = z.infer<typeof GearState>;

export const Join = z.object({ id: Id, code: z.string().max(20), name: Name });
export const JoinTarget = z.object({
  classTitle: z.string(),
  startsAt: Instant,
  room: z.string(),
  studioName: z.string(),
  timeZone: z.string(),
  emergencyPhone: z.string(),
  stations: z.array(z.object({ name: z.string(), code: z.string() })).describe('one when the code is a station code; all when it is the class code'),
});
export const ConfirmGear = z.object({ id: Id, itemKey: z.string().max(40) });
export const Countersign = z.object({ id: Id });
export const LapseGear = z.object({ id: Id, reason: Line });
export const SeatSignOut = z.object({});

export const FloorSeat = z.object({ id: Id, name: z.string(), gear: GearState, gearTotal: z.int(), signedOut: z.boolean() });
export const FloorStation = z.object({
  id: Id,
  name: z.string(),
  joinCode: z.string(),
  cardId: Id.nullable(),
  cardNumber: z.string().nullable(),
  seats: z.array(FloorSeat),
  gateOpen: z.boolean(),
  stepNo: z.int().nullable(),
  stepCount: z.int(),
  stepTitle: z.string(),
  lastReading: z.object({ text: z.string(), verdict: z.string(), at: Instant, byName: z.string() }).nullable(),
  jarNumber: z.string().nullable(),
  strayStepNo: z.int().nullable().describe('the step whose mass is off target now: what can be done about it may be asked'),
  alarms: z.array(z.string()),
});
export type FloorStation = z.infer<typeof FloorStation>;
export const FloorView = z.object({
  classId: Id,
  title: z.string(),
  startsAt: Instant,
  room: z.string(),
  timeZone: z.string(),
  status: z.string(),
  joinCode: z.string(),
  stopped: z.object({ at: Instant, byName: z.string(), reason: z.string() }).nullable(),
  stations: z.array(FloorStation),
  eventSeq: z.int(),
});
export type FloorView = z.infer<typeof FloorView>;
