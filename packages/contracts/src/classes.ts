import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg, Name } from './basics.ts';

export const StationIn = z.object({
  id: Id,
  name: Name,
  scaleStep: Entered.describe('grams unless a unit is typed'),
  scaleCapacity: Entered,
  mouldName: Name,
  mouldVolumeMl: Entered,
});
export const StationOut = z.object({
  id: Id,
  name: z.string(),
  scaleStepMg: MassMg,
  scaleCapacityMg: MassMg,
  mouldName: z.string(),
  mouldVolumeMl: z.int(),
});
export const Stations = z.object({ stations: z.array(StationOut) });

/** One station of a class, as set up for the day. `id` is the class station's own id. */
export const ClassStationIn = z.object({
  id: Id,
  stationId: Id,
  scaleStep: Entered,
  scaleCapacity: Entered,
  mouldName: Name,
  mouldVolumeMl: Entered,
});
export const CreateClass = z.object({
  id: Id,
  title: Name,
  startsAt: Instant,
  room: Line,
  recipeVersionId: Id,
  naohLotId: Id.nullable(),
  kohLotId: Id.nullable(),
  stations: z.array(ClassStationIn).min(1, 'Choose at least one station.').max(60),
});
export type CreateClass = z.infer<typeof CreateClass>;

export const ClassStatus = z.enum(['draft', 'published', 'closed', 'cancelled']);
export const ClassSummary = z.object({
  id: Id,
  title: z.string(),
  startsAt: Instant,
  room: z.string(),
  status: ClassStatus,
  recipeTitle: z.string(),
  recipeVersionNumber: z.int(),
  stationCount: z.int(),
});
export const Classes = z.object({ classes: z.array(ClassSummary) });
export type Classes = z.infer<typeof Classes>;
export const ClassStationOut = z.object({
  id: Id,
  stationId: Id,
  name: z.string(),
  scaleStepMg: MassMg,
  scaleCapacityMg: MassMg,
  mouldName: z.string(),
  mouldVolumeMl: z.int(),
  joinCode: z.string(),
  cardId: Id.nullable(),
  cardNumber: z.string().nullable(),
});
/** Whether a station's card could be issued now, and why not. Shown before publishing. */
export const StationReadiness = z.object({
  classStationId: Id,
  name: z.string(),
  safe: z.boolean(),
  words: z.string(),
  faults: z.array(z.string()),
  naohMg: MassMg,
  kohMg: MassMg,
});
export const StockNeed = z.object({ substance: z.string(), neededMg: MassMg, inCabinetMg: MassMg, lotNumber: z.string().nullable(), enough: z.boolean() });
export const ClassOut = ClassSummary.extend({
  recipeId: Id,
  recipeVersionId: Id,
  naohLotId: Id.nullable(),
  kohLotId: Id.nullable(),
  joinCode: z.string(),
  stations: z.array(ClassStationOut),
  readiness: z.array(StationReadiness),
  stock: z.array(StockNeed),
});
export type ClassOut = z.infer<typeof ClassOut>;
export const PublishClass = z.object({});
export const StopRoom = z.object({ id: Id, reason: Line });
export const ClearRoom = z.object({ id: Id, reason: Line });
export const StopOut = z.object({ at: Instant, byName: z.string(), reason: z.string() });
