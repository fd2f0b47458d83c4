import { z } from 'zod';

/** One field's fault: `pointer` is a JSON pointer into the request body, `detail` a sentence to show beside the field. */
export const FieldFault = z.object({ pointer: z.string(), detail: z.string(), code: z.string().optional() });
export type FieldFault = z.infer<typeof FieldFault>;

/** RFC 9457 problem document. `title` is the same for every occurrence of a code; `detail` is about this one. */
export const Problem = z
  .object({
    type: z.string(),
    code: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string(),
    errors: z.array(FieldFault).optional(),
  })
  .meta({ id: 'Problem', description: 'RFC 9457 problem details.' });
export type Problem = z.infer<typeof Problem>;
