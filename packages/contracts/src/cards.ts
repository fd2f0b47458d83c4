import { z } from 'zod';
import { Entered, Id, Instant, IntervalOut, Line, MassMg } from './basics.ts';
import { CardChangeOut } from './changes.ts';
import { StopOut } from './classes.ts';
import { ClassMessageOut, GearItem, GearState } from './gear.ts';
import { StudioOut } from './people.ts';
import { Substance } from './stock.ts';

export const StepKind = z.enum(['do', 'weigh', 'temperature', 'label', 'clean']);
/** One instruction. `caustic` steps open only behind the gear gate. */
export const CardStep = z.object({
  no: z.int(),
  kind: StepKind,
  title: z.string(),
  instruction: z.string(),
  reason: z.string(),
  caution: z.string().nullable(),
  caustic: z.boolean(),
  lineKey: z.string().nullable(),
  targetMg: MassMg.nullable(),
  acceptLowMg: MassMg.nullable(),
  acceptHighMg: MassMg.nullable(),
  lowC: z.number().nullable(),
  highC: z.number().nullable(),
  because: z
    .array(z.object({ words: z.string(), noteNumber: z.string() }))
    .optional()
    .describe('cautions that stand here because of a note'),
  weighs: z.enum(['addition', 'again']).optional().describe('on a step that a change put in: more of its line, or the whole line once more'),
});
export type CardStep = z.infer<typeof CardStep>;

export const PlanLineOut = z.object({
  key: z.string(),
  kind: z.enum(['fat', 'naoh', 'koh', 'water', 'ice', 'liquid', 'additive', 'acid']),
  name: z.string(),
  exactMg: z.number(),
  targetMg: MassMg,
  acceptLowMg: MassMg,
  acceptHighMg: MassMg,
  stepMg: MassMg,
  into: z.literal('fats').optional().describe('a liquid stirred into the fats, not into the lye pot'),
  late: z.literal(true).optional().describe('a fat held back and stirred in at the end'),
});
/** What a solution's label says besides its hazard: EU wording, and the US wording where it differs. */
export const LabelOut = z.object({
  precautions: z.array(z.object({ code: z.string(), text: z.string(), usText: z.string().optional() })),
  us: z.object({ signalWord: z.string(), statements: z.array(z.string()) }),
  coldStorage: z.string().nullable(),
  supplierFirst: z.string(),
});
export type LabelOut = z.infer<typeof LabelOut>;

export const CardContent = z.object({
  recipeTitle: z.string(),
  recipeVersionNumber: z.int(),
  classTitle: z.string(),
  startsAt: Instant,
  room: z.string(),
  stationName: z.string(),
  mouldName: z.string(),
  mouldVolumeMl: z.int(),
  scaleStepMg: MassMg,
  lines: z.array(PlanLineOut),
  steps: z.array(CardStep),
  gear: z.array(GearItem),
  superfatAimPercent: z.number(),
  superfatBandPercent: IntervalOut,
  likelySuperfatPercent: IntervalOut.optional().describe('k = 2, within the worst case; cards from before it lack this and all that is optional here'),
  contributions: z.array(z.string()).optional().describe('what widens the likely range most, at most three, widest first'),
  lyeConcentrationPercent: z.number(),
  potConcentrationPercent: z.number().optional().describe('in the lye pot; more than lyeConcentrationPercent when liquid goes into the fats'),
  solutionDensityGPerMl: z.number().optional().describe('at 20 C'),
  solutionVolumeMl: z.number().optional().describe('at 20 C'),
  iceWords: z.string().optional(),
  coolingWords: z.array(z.string()).optional(),
  label: LabelOut.optional(),
  peakTemperatureC: z.number(),
  peakKind: z.enum(['estimate', 'upper bound']),
  steam: z.string(),
  batchMassMg: MassMg,
  solutionMassMg: MassMg,
  words: z.string(),
  warnings: z.array(z.string()),
  hazard: z.object({ signalWord: z.string(), classification: z.string(), statements: z.array(z.object({ code: z.string(), text: z.string() })) }),
  lots: z.array(z.object({ substance: Substance, lotNumber: z.string(), purityPercent: z.number() })),
});
export type CardContent = z.infer<typeof CardContent>;

export const CardOut = z.object({
  id: Id,
  classId: Id,
  classStationId: Id,
  number: z.string(),
  issue: z.int(),
  issuedAt: Instant,
  joinCode: z.string(),
  voided: z.boolean(),
  content: CardContent.describe('with every change in it'),
  changes: z.array(CardChangeOut),
});
export type CardOut = z.infer<typeof CardOut>;
export const Cards = z.object({ cards: z.array(CardOut) });

export const Verdict = z.enum(['within', 'under', 'over']);
export const RecordReading = z.object({ id: Id, stepNo: z.int(), entered: Entered, supersedesId: Id.nullable() });
export type RecordReading = z.infer<typeof RecordReading>;
/** What a second person read from the same scale, before the target was shown to them. */
export const ReadingCheckOut = z.object({ byName: z.string(), entered: z.string(), massMg: MassMg, agrees: z.boolean(), at: Instant });
export type ReadingCheckOut = z.infer<typeof ReadingCheckOut>;
/** `byName`: who read it, where the device is not their own. */
export const CheckReading = z.object({ id: Id, entered: Entered, byName: Line.optional() });
export const StaffCheckReading = CheckReading.omit({ byName: true });
/** not needed: no weighing of caustic, off target, or taken as it is by a change; needed: nobody else has read the scale yet. */
export const SecondReading = z.enum(['not needed', 'needed', 'agrees', 'disagrees']);
export type SecondReading = z.infer<typeof SecondReading>;
/** The second reading with what it was compared with, which is told only now. */
export const CheckOutcome = ReadingCheckOut.extend({
  readingId: Id,
  first: z.object({ massMg: MassMg, byName: z.string() }),
  targetMg: MassMg,
  advice: z.string(),
});
export type CheckOutcome = z.infer<typeof CheckOutcome>;
export const ReadingSource = z.enum(['station', 'offline', 'paper']);
export const ReadingOut = z.object({
  id: Id,
  stepNo: z.int(),
  entered: z.string(),
  massMg: MassMg.nullable(),
  temperatureC: z.number().nullable(),
  verdict: Verdict,
  offBy: z.number().describe('milligrams, or thousandths of a degree'),
  advice: z.string(),
  at: Instant,
  byName: z.string(),
  superseded: z.boolean(),
  seatId: Id.nullable().optional().describe('the seat that entered it; what a device kept from before lacks this and the rest'),
  source: ReadingSource.optional(),
  second: SecondReading.optional(),
  check: ReadingCheckOut.nullable().optional(),
});
export type ReadingOut = z.infer<typeof ReadingOut>;
/** A printed card, line by line in the order of its steps. `entered` is blank where a step takes no reading. */
export const EnterPaper = z.object({
  lines: z
    .array(
      z.object({
        id: Id,
        stepNo: z.int(),
        entered: Entered,
        second: z
          .object({ id: Id, entered: Entered, byName: Line })
          .nullable()
          .describe('the second reading of a caustic weighing, with the name written there'),
      }),
    )
    .min(1, 'Enter at least one line.')
    .max(200),
});
export const PaperEntered = z.object({
  entered: z.int(),
  currentStepNo: z.int().nullable(),
  stopped: z.object({ stepNo: z.int(), code: z.string(), detail: z.string() }).nullable().describe('the first line that was refused, and why'),
});
export type PaperEntered = z.infer<typeof PaperEntered>;
export const StepDone = z.object({ stepNo: z.int(), at: Instant, byName: z.string() });
export const JarOut = z.object({
  id: Id,
  number: z.string(),
  contents: z.string(),
  concentrationPercent: z.number(),
  massMg: MassMg,
  madeAt: Instant,
  discardOn: z.string(),
  madeBy: z.string(),
  stationName: z.string(),
  classTitle: z.string(),
  state: z.enum(['in date', 'past its discard date', 'discarded']),
  nowMg: MassMg.describe('what is in it now'),
  nowConcentrationPercent: z.number(),
  place: z.string(),
  goneHow: z.string().nullable().describe('used up, discarded, neutralised or disposed of'),
});
export type JarOut = z.infer<typeof JarOut>;
export const Jars = z.object({ jars: z.array(JarOut) });
export const LabelJar = z.object({ id: Id, cardId: Id, mass: Entered });
/** A jar of a printed card: `madeAt` is the time written on it, now when left out. */
export const LabelPaperJar = LabelJar.extend({ madeAt: Instant.optional() });
export const DiscardJar = z.object({ id: Id, remark: z.string().trim().max(400) });
/** What happens to a jar after it was labelled. `mass`: what was taken, or the water topped up; `place`: where it stands from now on. */
export const JarActKind = z.enum(['placed', 'used', 'topped', 'neutralised', 'disposed']);
export const RecordJarAct = z.object({ id: Id, kind: JarActKind, mass: Entered.optional(), place: Line.optional(), remark: z.string().trim().max(400) });
export type RecordJarAct = z.infer<typeof RecordJarAct>;
export const JarDetail = JarOut.extend({
  lots: z
    .array(z.object({ substance: Substance, lotNumber: z.string(), massMg: MassMg }))
    .describe('dry caustic in it when it was filled, by lot; an estimate'),
  booked: z.boolean().describe('whether the ledger has its caustic yet'),
  acts: z.array(z.object({ kind: z.string(), massMg: MassMg.nullable(), place: z.string().nullable(), remark: z.string(), byName: z.string(), at: Instant })),
});
export type JarDetail = z.infer<typeof JarDetail>;

/** Everything a station page needs, for the seat that asks. */
export const StationView = z.object({
  studio: StudioOut,
  classId: Id,
  classTitle: z.string(),
  startsAt: Instant,
  room: z.string(),
  classClosed: z.boolean(),
  classStationId: Id,
  stationName: z.string(),
  stopped: StopOut.nullable(),
  seat: z.object({ id: Id, name: z.string() }),
  card: CardOut,
  gear: GearState,
  gate: z.object({
    open: z.boolean(),
    waitingFor: z.array(z.string()),
    until: Instant.nullable().optional().describe('when the first sign-off at the station runs out: a device without network shuts the gate then'),
  }),
  messages: z.array(ClassMessageOut).optional().describe('to everybody in the class, the newest first'),
  visitors: z
    .array(z.object({ id: Id, name: z.string(), gear: GearState }))
    .optional()
    .describe('people at the station who have no device of their own'),
  currentStepNo: z.int().nullable().describe('null when every step is done'),
  done: z.array(StepDone),
  readings: z.array(ReadingOut),
  jar: JarOut.nullable(),
});
export type StationView = z.infer<typeof StationView>;
