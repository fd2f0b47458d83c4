import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg, Name } from './basics.ts';

/** The accuracy classes the formulation package knows (OIML R 76-1, NIST Handbook 44). */
export const AccuracyClass = z.enum(['I', 'II', 'III', 'IIII', 'HB 44 III']);
/** A bench as typed: its scale, the finer one for lye if there is one, its mould and its container for lye. What is left blank is not known. */
const BenchIn = {
  scaleStep: Entered.describe('grams unless a unit is typed'),
  scaleCapacity: Entered,
  mouldName: Name,
  mouldVolumeMl: Entered,
  verificationInterval: Entered.optional().describe('e on the plate of the scale, grams unless a unit is typed'),
  accuracyClass: z.union([AccuracyClass, z.literal('')]).optional(),
  lyeScaleStep: Entered.optional().describe('a finer scale for the lye alone; with its capacity, or neither'),
  lyeScaleCapacity: Entered.optional(),
  potMaterial: z.string().max(40).optional().describe('key of a container material of the formulation package'),
  potVolumeMl: Entered.optional().describe('of the container the lye is dissolved in, to its brim'),
};
const BenchOut = {
  scaleStepMg: MassMg,
  scaleCapacityMg: MassMg,
  mouldName: z.string(),
  mouldVolumeMl: z.int(),
  verificationIntervalMg: MassMg.nullable(),
  accuracyClass: AccuracyClass.nullable(),
  lyeScaleStepMg: MassMg.nullable(),
  lyeScaleCapacityMg: MassMg.nullable(),
  potMaterial: z.string().nullable(),
  potVolumeMl: z.int().nullable(),
};
export const StationIn = z.object({ id: Id, name: Name, ...BenchIn });
export const ChangeStation = StationIn.omit({ id: true });
export const ScaleUse = z.enum(['main', 'lye']);
/** What a scale of the station showed with a known mass on it. */
export const CheckWeighIn = z.object({
  id: Id,
  scale: ScaleUse,
  known: Entered.describe('the known mass, grams unless a unit is typed'),
  knownLimit: Entered.describe('how wrong the known mass itself can be; 0 when it is far better than the scale'),
  shown: Entered,
});
export const CheckWeighOut = z.object({
  id: Id,
  scale: ScaleUse,
  knownMg: MassMg,
  knownLimitMg: MassMg,
  shownMg: MassMg,
  at: Instant,
  byName: z.string(),
  differenceMg: z.int(),
  limitMg: z.number(),
  past: z.boolean(),
  words: z.string(),
});
export type CheckWeighOut = z.infer<typeof CheckWeighOut>;
export const StationOut = z.object({ id: Id, name: z.string(), ...BenchOut });
export type StationOut = z.infer<typeof StationOut>;
export const Stations = z.object({ stations: z.array(StationOut) });
export const StationDetail = StationOut.extend({ checks: z.array(CheckWeighOut).describe('newest first') });

const OwnVersion = Id.nullable().optional().describe('a recipe version of its own; null or left out: that of the class');
const SparePercent = z.int('Give the spare in whole percent.').min(0, 'The spare is at least 0 %.').max(100, 'The spare is at most 100 %.');
/** Share on top of what the cards ask for, percent. Ours, no source. */
export const SPARE_DEFAULT_PERCENT = 10;

/** One station of a class, as set up for the day. `id` is the class station's own id. */
export const ClassStationIn = z.object({ id: Id, stationId: Id, recipeVersionId: OwnVersion, ...BenchIn });
export const CreateClass = z.object({
  id: Id,
  title: Name,
  startsAt: Instant,
  room: Line,
  recipeVersionId: Id,
  naohLotId: Id.nullable(),
  kohLotId: Id.nullable(),
  sparePercent: SparePercent.default(SPARE_DEFAULT_PERCENT),
  stations: z.array(ClassStationIn).min(1, 'Choose at least one station.').max(60),
});
export type CreateClass = z.infer<typeof CreateClass>;

const Reason = z.string().trim().min(1, 'Say why: it stands in the audit.').max(200, 'Use at most 200 characters.');
/** A published class changed at chosen stations: each gets a new issue of its card, which voids the one named in `cardId`. */
export const AmendClass = z.object({
  id: Id,
  stations: z
    .array(z.object({ classStationId: Id, cardId: Id.describe('the card it replaces, as it was seen'), recipeVersionId: OwnVersion, ...BenchIn }))
    .min(1, 'Choose at least one station.')
    .max(60),
  naohLotId: Id.nullable().optional().describe('left out: as it is'),
  kohLotId: Id.nullable().optional(),
  reason: Reason,
  confirm: z.boolean().optional().describe('the words about caustic at work were read, and it shall be done all the same'),
  preview: z.boolean().optional().describe('only say what would change; nothing is issued'),
});
export type AmendClass = z.infer<typeof AmendClass>;
const CardName = z.object({ number: z.string(), issue: z.int() });
export const AmendOut = z.object({
  issued: z.boolean(),
  stations: z.array(
    z.object({
      classStationId: Id,
      name: z.string(),
      before: CardName,
      after: CardName,
      changes: z.array(z.string()).describe('what the new card says otherwise, each in a line'),
      done: z.int().describe('steps of the old card that were done'),
      lost: z.string().nullable().describe('set when caustic is at work there: what is lost, and what to do with it'),
    }),
  ),
});
export type AmendOut = z.infer<typeof AmendOut>;
export const CancelClass = z.object({ id: Id, reason: Reason });
export const MoveClass = z.object({ id: Id, startsAt: Instant, room: Line });
export const CopyClass = z.object({ id: Id, startsAt: Instant, recipeVersionId: Id.optional().describe('left out: the newest of the same recipe') });
export type CopyClass = z.infer<typeof CopyClass>;

/** What only a person in the room can see; each is looked at and said on its own. */
export const ClassCheckKey = z.enum(['ventilation', 'eyewash', 'gear', 'containers', 'ice', 'first-aid']);
export type ClassCheckKey = z.infer<typeof ClassCheckKey>;
export const ClassCheckIn = z.object({ id: Id, itemKey: ClassCheckKey, sound: z.boolean(), remark: Line });
export const ReadyItem = z.object({
  key: z.string(),
  checkKey: ClassCheckKey.nullable().describe('set when a person looks and says'),
  title: z.string(),
  state: z.enum(['done', 'open', 'fault']),
  words: z.string(),
  link: z.string().nullable().describe('path of the page where it is put right'),
  byName: z.string().nullable(),
  at: Instant.nullable(),
});
export type ReadyItem = z.infer<typeof ReadyItem>;

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
  otherRecipes: z.int().describe('recipes besides the class’s own that stations of it make'),
});
export const Classes = z.object({ classes: z.array(ClassSummary) });
export type Classes = z.infer<typeof Classes>;
export const ClassStationOut = z.object({
  id: Id,
  stationId: Id,
  name: z.string(),
  ...BenchOut,
  recipeVersionId: Id.nullable().describe('its own; null: that of the class'),
  recipeTitle: z.string(),
  recipeVersionNumber: z.int(),
  joinCode: z.string(),
  cardId: Id.nullable(),
  cardNumber: z.string().nullable(),
  cardIssue: z.int().nullable(),
});
/** Whether a station's card could be issued now, and why not. Shown before publishing. */
export const StationReadiness = z.object({
  classStationId: Id,
  name: z.string(),
  safe: z.boolean(),
  words: z.string(),
  faults: z.array(z.string()),
  notes: z.array(z.string()).describe('which scale weighs the lye, container, fill, peak, checks of the scales: to be read before publishing'),
  naohMg: MassMg,
  kohMg: MassMg,
});
export const StockNeed = z.object({
  substance: z.string(),
  neededMg: MassMg,
  inCabinetMg: MassMg,
  lotNumber: z.string().nullable(),
  enough: z.boolean(),
  sheet: z
    .object({
      link: z.string(),
      revisedOn: z.string().nullable(),
      limitDays: z.int().describe('older than this is told'),
      expiryWords: z.string().describe('of the lot; blank while it is far from its best-before day'),
    })
    .nullable()
    .describe('the newest safety data sheet of the lot'),
});
/** One line of the plan over all stations that have one, with the spare asked for; rounded up to whole steps of the coarsest scale. */
export const ClassTotal = z.object({
  key: z.string(),
  kind: z.string(),
  name: z.string(),
  stations: z.int(),
  sumMg: MassMg,
  spareMg: MassMg,
  totalMg: MassMg,
  stepMg: MassMg,
});
export const ClassQuery = z.object({ spare: z.coerce.number().min(0).max(100).optional().describe('percent; left out: that of the class') });
export const ClassOut = ClassSummary.extend({
  recipeId: Id,
  recipeVersionId: Id,
  naohLotId: Id.nullable(),
  kohLotId: Id.nullable(),
  sparePercent: SparePercent,
  cancelledReason: z.string().nullable(),
  joinCode: z.string(),
  stations: z.array(ClassStationOut),
  readiness: z.array(StationReadiness),
  stock: z.array(StockNeed),
  totals: z.array(ClassTotal),
  checklist: z.array(ReadyItem),
});
export type ClassOut = z.infer<typeof ClassOut>;
export const PublishClass = z.object({});
export const StopRoom = z.object({ id: Id, reason: Line });
export const ClearRoom = z.object({ id: Id, reason: Line });
export const StopOut = z.object({ at: Instant, byName: z.string(), reason: z.string() });
