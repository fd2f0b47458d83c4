import { z } from 'zod';
import { Day, Id, Instant, Line, Text } from './basics.ts';

export const NoteKind = z.enum(['near miss', 'incident']);
/** What a reporter tells. Only `what` must be filled: a short note is better than none. */
const told = {
  id: Id,
  kind: NoteKind,
  place: Line,
  stepTitle: Line,
  what: Text.min(1, 'Say in a few words what happened.'),
  whatStoppedIt: Text,
  doneAtOnce: Text,
};
export const FileNote = z.object({ ...told, classId: Id.nullable() });
export type FileNote = z.infer<typeof FileNote>;
/** `code` is the class's or station's join code: it says which studio, and nothing about who. */
export const FileAnonymousNote = z.object({ ...told, code: z.string().max(20) });
export type FileAnonymousNote = z.infer<typeof FileAnonymousNote>;
export const NoteFiled = z.object({ id: Id, number: z.string(), returnCode: z.string().nullable() });

/** What became of an anonymous note, for whoever holds its return code. */
export const NoteStatus = z.object({
  number: z.string(),
  reviewed: z.boolean(),
  outcomes: z.array(z.object({ outcome: z.string(), learned: z.string(), change: z.string() })),
});

export const NoteSummary = z.object({
  id: Id,
  number: z.string(),
  kind: NoteKind,
  signing: z.enum(['named', 'anonymous']),
  what: z.string(),
  place: z.string(),
  happenedOn: Day,
  reviewed: z.boolean(),
});
export const Notes = z.object({ notes: z.array(NoteSummary) });
export const ReviewOut = z.object({ id: Id, outcome: z.string(), learned: z.string(), change: z.string(), byName: z.string(), at: Instant });
export const NoteOut = NoteSummary.extend({
  stepTitle: z.string(),
  whatStoppedIt: z.string(),
  doneAtOnce: z.string(),
  classTitle: z.string().nullable(),
  byName: z.string().nullable(),
  reviews: z.array(ReviewOut),
});
export type NoteOut = z.infer<typeof NoteOut>;
export const ReviewOutcome = z.enum(['looked into', 'change made', 'no change needed']);
export const ReviewNote = z.object({
  id: Id,
  outcome: ReviewOutcome,
  learned: Text.min(1, 'Say what was learned.'),
  change: Text,
});
