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
/** Somebody without a device of their own, who counts in the gate like everybody at the station. */
export const SeatKind = z.enum(['student', 'visitor', 'helper']);
export const AddVisitor = z.object({ id: Id, name: Name });
export const AddAtStation = AddVisitor.extend({ classStationId: Id, kind: z.enum(['visitor', 'student']) });
export const MoveSeat = z.object({ id: Id, classStationId: Id });
/** To every station of a class. `seq` rises, so that a device can say up to which one it was read. */
export const SendMessage = z.object({ id: Id, text: Line.min(1, 'Write the message.') });
export const ClassMessageOut = z.object({ id: Id, seq: z.number(), text: z.string(), at: Instant, byName: z.string() });
export type ClassMessageOut = z.infer<typeof ClassMessageOut>;
/** The studio's own tablets, each bound to a station. */
export const BindDevice = z.object({ id: Id });
export const Bound = z.object({ stationName: z.string() });
export const Released = z.object({ released: z.int() });
export const BenchOut = z.object({
  station: z.object({ id: Id, name: z.string() }).nullable().describe('null: this device is not bound'),
  today: z.object({ classTitle: z.string(), startsAt: Instant, room: z.string(), code: z.string() }).nullable(),
});
export type BenchOut = z.infer<typeof BenchOut>;
export const SeatSignOut = z.object({});

export const FloorSeat = z.object({
  id: Id,
  name: z.string(),
  gear: GearState,
  gearTotal: z.int(),
  signedOut: z.boolean(),
  kind: SeatKind,
  noDevice: z.boolean(),
});
export const FloorStation = z.object({
  id: Id,
  name: z.string(),
  joinCode: z.string(),
  cardId: Id.nullable(),
  cardNumber: z.string().nullable(),
  seats: z.array(FloorSeat),
  gear: z.array(GearItem).describe('what the card in force asks of everybody at the station'),
  gateOpen: z.boolean(),
  stepNo: z.int().nullable(),
  stepCount: z.int(),
  stepTitle: z.string(),
  temperature: z.object({ text: z.string(), verdict: z.string(), at: Instant }).nullable(),
  lastReading: z.object({ text: z.string(), verdict: z.string(), at: Instant, byName: z.string() }).nullable(),
  secondReading: z
    .object({ readingId: Id, what: z.string(), byName: z.string() })
    .nullable()
    .describe('a caustic weighing that waits for a second person; what the first one read is not told before'),
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
  messages: z.array(ClassMessageOut).describe('the newest first'),
  containersOut: z.array(z.string()).describe('labels of containers with caustic handed out for this class and not taken back'),
  readAt: Instant,
  eventSeq: z.int(),
});
export type FloorView = z.infer<typeof FloorView>;
