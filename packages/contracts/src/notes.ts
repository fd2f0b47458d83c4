import { z } from 'zod';
import { Day, Id, Instant, Line, Text } from './basics.ts';

export const NoteKind = z.enum(['near miss', 'incident']);
/** With a name; in confidence (reviewers alone may ask who, and every asking is in the audit); or without anything that leads to the writer. */
export const NoteSigning = z.enum(['named', 'confidential', 'anonymous']);
export type NoteSigning = z.infer<typeof NoteSigning>;
/** What an incident did; more than one may be true. */
export const Harm = z.enum(['first aid', 'medical help', 'damage', 'spill', 'eyes', 'skin', 'lungs']);
export type Harm = z.infer<typeof Harm>;
/** What a reporter tells. Only `what` must be filled: a short note is better than none. What is left out is blank, so that an older device is heard too. */
const told = {
  id: Id,
  kind: NoteKind,
  harms: z.array(Harm).max(7).default([]),
  whenWords: Line.default('').describe('when, in the reporter’s own words'),
  place: Line,
  stepTitle: Line,
  what: Text.min(1, 'Say in a few words what happened.'),
  how: Text.default(''),
  whatStoppedIt: Text,
  doneAtOnce: Text,
};
export const FileNote = z.object({ ...told, classId: Id.nullable(), signing: NoteSigning.exclude(['anonymous']).default('named') });
export type FileNote = z.infer<typeof FileNote>;
/** As it is sent: what is left out is blank. */
export type ToldNote = Omit<z.input<typeof FileNote>, 'id' | 'classId'>;
/** `code` is a join code of a class or station, or the one on the studio's wall: it says which studio, and nothing about who. */
export const FileAnonymousNote = z.object({ ...told, code: z.string().max(20) });
export type FileAnonymousNote = z.infer<typeof FileAnonymousNote>;
export const NoteFiled = z.object({ id: Id, number: z.string(), returnCode: z.string().nullable() });
export type NoteFiled = z.infer<typeof NoteFiled>;

/** Where a code leads that notes can be filed by. */
export const NotePlace = z.object({ studioName: z.string(), emergencyPhone: z.string() });

/** Largest picture, bytes; as base64 text it is a third longer. */
export const MOST_PICTURE_BYTES = 12_000_000;
export const MOST_PICTURE_TEXT = Math.ceil(MOST_PICTURE_BYTES / 3) * 4;
export const MOST_PICTURES = 3;
const base64 = z
  .base64('The picture did not arrive whole. Choose it again.')
  .min(1, 'Choose a picture.')
  .max(MOST_PICTURE_TEXT, 'The picture is larger than 12 MB.');
export const AddPicture = z.object({ id: Id, base64 });
/** `noteId`: the id that the writer's device gave the note; it is kept nowhere and proves that they wrote it. */
export const AddAnonymousPicture = z.object({ noteId: Id, code: z.string().max(20), base64 });
export const AddToNote = z.object({ id: Id, text: Text.min(1, 'Write what is to be added.') });
export const AnswerAnonymously = z.object({ code: z.string().max(20), text: Text.min(1, 'Write your answer.') });

/** added: by the reporter; question: by a reviewer; answer: by the reporter. `byName` is null where the writer is not told. */
export const AmendmentOut = z.object({ kind: z.enum(['added', 'question', 'answer']), text: z.string(), byName: z.string().nullable(), on: Day });
export type AmendmentOut = z.infer<typeof AmendmentOut>;
/** What became of a note, for its reporter: of no other person a name. */
export const NoteStatus = z.object({
  number: z.string(),
  kind: NoteKind,
  happenedOn: Day,
  what: z.string(),
  reviewed: z.boolean(),
  outcomes: z.array(z.object({ outcome: z.string(), learned: z.string(), change: z.string() })),
  amendments: z.array(AmendmentOut),
  followUps: z.array(z.object({ what: z.string(), state: z.string() })),
  toldWith: z.string().nullable().describe('the number of the note that tells of the same thing'),
});
export type NoteStatus = z.infer<typeof NoteStatus>;
export const MyNotes = z.object({ notes: z.array(NoteStatus.extend({ id: Id })) });

export const NoteSummary = z.object({
  id: Id,
  number: z.string(),
  kind: NoteKind,
  signing: NoteSigning,
  what: z.string(),
  place: z.string(),
  happenedOn: Day,
  reviewed: z.boolean(),
  priority: z.enum(['not judged', 'at once', 'this week', 'this month']),
  toldWith: z.string().nullable(),
});
export type NoteSummary = z.infer<typeof NoteSummary>;
export const Notes = z.object({ notes: z.array(NoteSummary) });
export const ReviewOut = z.object({ id: Id, outcome: z.string(), learned: z.string(), change: z.string(), byName: z.string(), at: Instant });
export const ReviewOutcome = z.enum(['looked into', 'change made', 'no change needed']);
export const ReviewNote = z.object({
  id: Id,
  outcome: ReviewOutcome,
  learned: Text.min(1, 'Say what was learned.'),
  change: Text,
});
