import { z } from 'zod';
import { Id, Instant } from './basics.ts';

/** Ids only: a listener fetches what it may see. */
export const LiveEvent = z.object({
  seq: z.int(),
  kind: z.string(),
  classId: Id.nullable(),
  classStationId: Id.nullable(),
  subjectId: Id.nullable(),
});
export type LiveEvent = z.infer<typeof LiveEvent>;
export const AuditLine = z.object({ seq: z.int(), at: Instant, actor: z.string(), action: z.string(), subject: z.string() });
export const AuditLines = z.object({ lines: z.array(AuditLine) });
