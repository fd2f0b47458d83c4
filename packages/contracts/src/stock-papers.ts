import { z } from 'zod';
import { Day, Id, Instant, Name } from './basics.ts';

/** The most a kept file may weigh, bytes: a data sheet of some twenty pages is far below. */
export const MOST_FILE_BYTES = 5_000_000;
/** A file as text: base64 takes four signs for three bytes. */
export const MOST_FILE_TEXT = Math.ceil(MOST_FILE_BYTES / 3) * 4;
export const KeepFile = z.object({
  id: Id,
  name: Name,
  base64: z
    .base64({ error: 'The file could not be read.' })
    .max(MOST_FILE_TEXT, 'The file is larger than 5 MB. Ask the supplier for a smaller one, or give its web address.'),
});
export type KeepFile = z.infer<typeof KeepFile>;

export const PaperKind = z.enum(['safety data sheet', 'certificate']);
export type PaperKind = z.infer<typeof PaperKind>;
/** A web address, or nothing. */
export const PaperLink = z
  .string()
  .trim()
  .max(500, 'Use at most 500 characters.')
  .refine((link) => link === '' || (/^https?:\/\//i.test(link) && URL.canParse(link)), {
    error: 'Give a whole web address: it begins with https://',
  });
export const AddPaper = z.object({ id: Id, kind: PaperKind, link: PaperLink, fileId: Id.nullable(), revisedOn: Day.nullable() });
export type AddPaper = z.infer<typeof AddPaper>;
export const PaperOut = z.object({
  id: Id,
  kind: PaperKind,
  link: z.string(),
  fileId: Id.nullable(),
  fileName: z.string().nullable(),
  revisedOn: Day.nullable(),
  at: Instant,
  byName: z.string(),
});
export type PaperOut = z.infer<typeof PaperOut>;
/** How a lot's newest safety data sheet stands against the studio's limit. */
export const SheetStand = z.object({ stand: z.enum(['in date', 'old', 'date unknown']), words: z.string() });
export type SheetStand = z.infer<typeof SheetStand>;
