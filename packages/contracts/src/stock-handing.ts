import { z } from 'zod';
import { Created, Entered, Id, Instant, Line, MassMg } from './basics.ts';
import { Substance } from './stock.ts';
import { WeighedOn } from './stock-scales.ts';

/** What caustic leaves the cabinet for. Only a class uses it up as product; the rest ends as waste. */
export const Purpose = z.enum(['class', 'test', 'disposal']);
export type Purpose = z.infer<typeof Purpose>;

export const CheckOut = WeighedOn.extend({
  id: Id,
  containerId: Id,
  purpose: Purpose.optional().describe('class when left out'),
  classId: Id.nullable().optional().describe('for the purpose class only'),
  takenBy: Id.optional().describe('the member of staff who takes it; who sends this when left out'),
  whole: z.boolean().optional().describe('the container itself goes: give gross and no mass'),
  mass: Entered.optional().describe('of a portion, without its vessel'),
  gross: Entered.optional().describe('of a whole container, with its lid'),
  dueAt: Instant.optional().describe('when it shall be back; the studio’s hours from now when left out'),
  remark: Line.optional(),
});
export type CheckOut = z.infer<typeof CheckOut>;
/** `waiting`: nothing has left yet; a second person has to agree first. */
export const CheckOutMade = Created.extend({ waiting: z.literal(true).optional() });
export type CheckOutMade = z.infer<typeof CheckOutMade>;

export const ReturnCheckOut = WeighedOn.extend({
  mass: Entered.optional().describe('of what is left of a portion; 0 for nothing'),
  gross: Entered.optional().describe('of a container that went out whole'),
  remark: Line.optional(),
});
export type ReturnCheckOut = z.infer<typeof ReturnCheckOut>;

export const CheckOutOut = z.object({
  id: Id,
  containerId: Id,
  containerLabel: z.string(),
  substance: Substance,
  lotNumber: z.string(),
  purpose: Purpose,
  classId: Id.nullable(),
  classTitle: z.string().describe('of the class; else what it was for'),
  massMg: MassMg,
  whole: z.boolean(),
  grossMg: MassMg.nullable(),
  tareMg: MassMg.describe('of the container'),
  scaleName: z.string().nullable(),
  at: Instant,
  byName: z.string(),
  takenByName: z.string(),
  agreedByName: z.string().nullable().describe('the second person, where two were needed'),
  dueAt: Instant.nullable(),
  overdue: z.boolean(),
  remark: z.string(),
  returnedMg: MassMg.nullable(),
  returnedGrossMg: MassMg.nullable(),
  returnedAt: Instant.nullable(),
  returnRemark: z.string(),
  usedMg: MassMg.nullable(),
});
export type CheckOutOut = z.infer<typeof CheckOutOut>;
export const CheckOuts = z.object({ checkouts: z.array(CheckOutOut), overdue: z.int().describe('how many are past the time they were due back') });
