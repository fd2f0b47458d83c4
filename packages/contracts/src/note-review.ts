import { z } from 'zod';
import { Day, Entered, Id, Instant, Line, Text } from './basics.ts';
import { AmendmentOut, Harm, NoteSummary, ReviewOut } from './notes.ts';

/** How bad it was, or could have been. none: nobody and nothing; slight: water, a plaster, a rag; serious: medical help, or a bench out of use; grave: lasting injury or worse. */
export const Severity = z.enum(['none', 'slight', 'serious', 'grave']);
export type Severity = z.infer<typeof Severity>;
export const Priority = z.enum(['at once', 'this week', 'this month']);
export type Priority = z.infer<typeof Priority>;
/**
 * How soon a note is looked into, by what it did (first) and what it could have done. Our own wording and our own judgement (no source): what could have left
 * a lasting injury is looked into at once, whatever it did this time.
 */
export const PRIORITIES: Record<Severity, Record<Severity, Priority>> = {
  none: { none: 'this month', slight: 'this month', serious: 'this week', grave: 'at once' },
  slight: { none: 'this month', slight: 'this week', serious: 'this week', grave: 'at once' },
  serious: { none: 'at once', slight: 'at once', serious: 'at once', grave: 'at once' },
  grave: { none: 'at once', slight: 'at once', serious: 'at once', grave: 'at once' },
};
export const NoteCategory = z.enum([
  'contact with caustic',
  'spill',
  'heat or boiling over',
  'wrong weighing or mix-up',
  'gear',
  'storage or label',
  'trip or fall',
  'other',
]);
export type NoteCategory = z.infer<typeof NoteCategory>;
/** Layers in which a cause can lie. More than one is usual; "person" alone is a question left open. */
export const Cause = z.enum(['person', 'equipment', 'method', 'material', 'surroundings', 'organisation']);
export type Cause = z.infer<typeof Cause>;

export const TriageNote = z.object({
  id: Id,
  actual: Severity,
  potential: Severity,
  category: NoteCategory,
  causes: z.array(Cause).min(1, 'Choose at least one layer in which a cause lies.').max(6),
  staff: z.boolean().describe('whether it concerns somebody who works here: it counts in the incidence rate'),
  classId: Id.nullable(),
  cardId: Id.nullable(),
  lotId: Id.nullable(),
  containerId: Id.nullable(),
});
export type TriageNote = z.infer<typeof TriageNote>;
const Named = z.object({ id: Id, name: z.string() });
export const TriageOut = z.object({
  actual: Severity,
  potential: Severity,
  priority: Priority,
  category: NoteCategory,
  causes: z.array(Cause),
  staff: z.boolean(),
  about: z.array(z.object({ sort: z.enum(['class', 'card', 'lot', 'container']), id: Id, name: z.string() })),
  byName: z.string(),
  at: Instant,
});
export type TriageOut = z.infer<typeof TriageOut>;

/** `intoId` null: it tells of something else after all. */
export const MergeNote = z.object({ id: Id, intoId: Id.nullable() });

/** Hierarchy of controls, strongest first. */
export const FollowUpKind = z.enum(['remove', 'replace', 'guard', 'procedure', 'gear']);
export type FollowUpKind = z.infer<typeof FollowUpKind>;
export const NewFollowUp = z.object({
  id: Id,
  noteId: Id,
  what: Line.min(3, 'Say what will be done.'),
  kind: FollowUpKind,
  ownerId: Id,
  dueOn: Day,
});
export type NewFollowUp = z.infer<typeof NewFollowUp>;
export const FollowUpAct = z.discriminatedUnion('kind', [
  z.object({ id: Id, kind: z.literal('given'), ownerId: Id, dueOn: Day, remark: Line }),
  z.object({ id: Id, kind: z.enum(['done', 'verified', 'reopened']), remark: Text.min(3, 'Say what shows it: what was seen, and where.') }),
]);
export type FollowUpAct = z.infer<typeof FollowUpAct>;
export const ChangeTarget = z.enum(['step', 'gear', 'recipe', 'station', 'limit']);
export type ChangeTarget = z.infer<typeof ChangeTarget>;
/** What a follow-up changed. On a step or to the gear it stands on every card issued from then on; without a recipe, of every recipe. */
export const NewChange = z.object({
  id: Id,
  target: ChangeTarget,
  recipeId: Id.nullable(),
  stationId: Id.nullable(),
  stepTitle: Line.nullable(),
  words: Line.min(3, 'Say what is different now.'),
});
export type NewChange = z.infer<typeof NewChange>;
export const ChangeOut = z.object({
  id: Id,
  target: ChangeTarget,
  recipeId: Id.nullable(),
  stationId: Id.nullable(),
  stepTitle: z.string().nullable(),
  words: z.string(),
  noteNumber: z.string(),
  since: Instant,
  endedAt: Instant.nullable(),
});
export type ChangeOut = z.infer<typeof ChangeOut>;
export const Changes = z.object({ changes: z.array(ChangeOut) });
export const FollowUpState = z.enum(['open', 'overdue', 'done', 'verified']);
export const FollowUpOut = z.object({
  id: Id,
  noteNumber: z.string(),
  noteId: Id.nullable().describe('null for whoever may not read the note'),
  what: z.string(),
  kind: FollowUpKind,
  owner: Named,
  dueOn: Day,
  state: FollowUpState,
  doneByMe: z.boolean(),
  acts: z.array(z.object({ kind: z.string(), ownerName: z.string().nullable(), dueOn: Day.nullable(), remark: z.string(), byName: z.string(), at: Instant })),
  changes: z.array(ChangeOut),
});
export type FollowUpOut = z.infer<typeof FollowUpOut>;
export const FollowUps = z.object({ followUps: z.array(FollowUpOut) });

export const NoteOut = NoteSummary.extend({
  harms: z.array(Harm),
  whenWords: z.string(),
  stepTitle: z.string(),
  how: z.string(),
  whatStoppedIt: z.string(),
  doneAtOnce: z.string(),
  classTitle: z.string().nullable(),
  cardNumber: z.string().nullable(),
  byName: z.string().nullable().describe('of a note in confidence it is null here: ask for it by its own route'),
  erasedOn: Day.nullable(),
  reviews: z.array(ReviewOut),
  amendments: z.array(AmendmentOut),
  pictures: z.array(z.object({ id: Id, widthPx: z.int(), heightPx: z.int() })),
  triage: TriageOut.nullable(),
  sameAs: z.array(z.object({ id: Id, number: z.string(), what: z.string() })).describe('notes that tell of the same thing, this one kept'),
  followUps: z.array(FollowUpOut),
  choices: z.object({
    classes: z.array(Named),
    cards: z.array(Named),
    lots: z.array(Named),
    containers: z.array(Named),
    recipes: z.array(Named),
    stations: z.array(Named),
    people: z.array(Named),
    notes: z.array(Named),
    steps: z.array(z.string()),
  }),
});
export type NoteOut = z.infer<typeof NoteOut>;
export const NoteWriter = z.object({ byName: z.string() });

const Rate = z.object({ rate: z.number(), low: z.number(), high: z.number() });
export const MonthReview = z.object({
  month: z.string(),
  notes: z.object({ nearMisses: z.int(), incidents: z.int() }),
  byCategory: z.array(z.object({ name: z.string(), count: z.int() })),
  byCause: z.array(z.object({ name: z.string(), count: z.int() })),
  byStep: z.array(z.object({ name: z.string(), count: z.int() })),
  nearMissesPerIncident: z.number().nullable(),
  studentHours: z.number(),
  classes: z.int(),
  per1000: Rate.nullable(),
  staffHours: z.number().nullable(),
  staffCases: z.int(),
  incidenceRate: z.number().nullable(),
  chart: z
    .object({
      mean: z.number(),
      points: z.array(
        z.object({
          month: z.string(),
          count: z.int(),
          hours: z.number(),
          rate: z.number().nullable(),
          low: z.number().nullable(),
          high: z.number().nullable(),
          outside: z.boolean(),
        }),
      ),
    })
    .nullable(),
  smallNumbers: z.string().nullable(),
  daysToReview: z.object({ median: z.number().nullable(), longest: z.number().nullable(), waiting: z.int() }),
  daysToClose: z.object({ median: z.number().nullable(), longest: z.number().nullable(), open: z.int(), overdue: z.int() }),
  changes: z.array(ChangeOut),
  learned: z.array(z.object({ number: z.string(), learned: z.string() })),
});
export type MonthReview = z.infer<typeof MonthReview>;
export const SetStaffHours = z.object({ month: z.string().regex(/^\d{4}-\d{2}$/, 'Choose a month.'), hours: Entered });

export const NoteSettings = z.object({ noteKeepDays: z.int(), nameKeepDays: z.int(), wallCode: z.string() });
export type NoteSettings = z.infer<typeof NoteSettings>;
export const ChangeNoteSettings = z.object({ noteKeepDays: Entered, nameKeepDays: Entered });
export type ChangeNoteSettings = z.infer<typeof ChangeNoteSettings>;
export const Blanked = z.object({ names: z.int(), notes: z.int() });
export const ExportNotes = z.object({ fromDay: Day, toDay: Day, names: z.boolean() });
export type ExportNotes = z.infer<typeof ExportNotes>;
export const NotesFile = z.object({ csv: z.string() });
