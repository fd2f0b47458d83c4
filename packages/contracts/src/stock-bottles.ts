import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg, Name } from './basics.ts';
import { LedgerLineOut } from './stock-books.ts';
import { ContainerOut } from './stock-lots.ts';
import { WeighedOn } from './stock-scales.ts';

export const ContainerActKind = z.enum(['opened', 'closed', 'emptied', 'rinsed', 'disposed', 'moved']);
export type ContainerActKind = z.infer<typeof ContainerActKind>;
export const ActOnContainer = z.object({ id: Id, kind: ContainerActKind, remark: Line.describe('for “moved”: the new place') });
export type ActOnContainer = z.infer<typeof ActOnContainer>;

export const Transfer = WeighedOn.extend({
  id: Id,
  toContainerId: Id.nullable().describe('a container of the same lot; null for a new one'),
  newContainer: z.object({ id: Id, label: Name, gross: Entered, tare: Entered }).nullable(),
  mass: Entered.optional().describe('what was put over; for a new container its weighing says it'),
});
export type Transfer = z.infer<typeof Transfer>;

export const TakeUp = WeighedOn.extend({
  id: Id,
  gross: Entered.describe('the container on the scale, lid on'),
  mass: Entered.optional().describe('how much of the gain is booked; all of it when blank'),
  reason: Line.min(1, 'Write why it got heavier, such as: lid found open.'),
});
export type TakeUp = z.infer<typeof TakeUp>;

export const BottleOut = ContainerOut.extend({
  supplier: z.string(),
  receivedAt: Instant,
  may: z.array(ContainerActKind).describe('what can be recorded of it now'),
  acts: z.array(z.object({ id: Id, kind: ContainerActKind, remark: z.string(), at: Instant, byName: z.string() })),
  lines: z.array(LedgerLineOut).describe('the newest of the ledger, newest first; none for who may not read it'),
  others: z.array(z.object({ id: Id, label: z.string(), balanceMg: MassMg })).describe('containers of the same lot that can take from it'),
  lastCount: z.object({ at: Instant, grossMg: MassMg, netMg: MassMg, bookMg: MassMg }).nullable(),
  cautions: z.array(z.string()),
});
export type BottleOut = z.infer<typeof BottleOut>;
