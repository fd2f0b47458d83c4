import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg } from './basics.ts';
import { WeighedOn } from './stock-scales.ts';

/** What takes two people: one asks, another decides. */
export const RequestKind = z.enum(['reversal', 'correction', 'write-off', 'disposal', 'checkout']);
export type RequestKind = z.infer<typeof RequestKind>;

/** Kinds of line that stand for themselves. A hand-out, what came back of it and what it used belong together: one alone cannot be mirrored. */
export const REVERSIBLE_KINDS: readonly string[] = ['receipt', 'transfer', 'disposal', 'uptake', 'write-off', 'correction'];

/** A place inside the studio that a correction takes from or gives to. `waste` has no id. */
export const PlaceRef = z.object({ sort: z.enum(['container', 'class', 'product', 'jar', 'waste']), id: Id.nullable() });
export type PlaceRef = z.infer<typeof PlaceRef>;
const reason = Line.min(3, 'Write why, in a few words. It stays in the books.');

export const AskReversal = z.object({ id: Id, seq: z.coerce.number().int().positive('Which line of the ledger?'), reason });
export const AskCorrection = WeighedOn.extend({
  id: Id,
  lotId: Id,
  from: PlaceRef,
  to: PlaceRef,
  mass: Entered,
  reason,
  aboutSeq: z.number().int().positive().nullable().optional().describe('the line of the ledger that it puts right'),
});
export type AskCorrection = z.infer<typeof AskCorrection>;
export const AskWriteOff = z.object({
  id: Id,
  containerId: Id,
  direction: z.enum(['missing', 'found']),
  mass: Entered,
  reason,
  countId: Id.nullable().optional().describe('the count that found it'),
});
export type AskWriteOff = z.infer<typeof AskWriteOff>;
export const AskDisposal = z.object({ id: Id, containerId: Id, mass: Entered, reason });
export type AskDisposal = z.infer<typeof AskDisposal>;

export const Decide = z.object({ outcome: z.enum(['approved', 'refused']), remark: Line });
export type Decide = z.infer<typeof Decide>;
export const StockRequestOut = z.object({
  id: Id,
  kind: RequestKind,
  words: z.string().describe('what it would do, with figures'),
  massMg: MassMg.nullable(),
  reason: z.string(),
  byName: z.string(),
  mine: z.boolean(),
  at: Instant,
  decision: z.object({ outcome: z.enum(['approved', 'refused']), byName: z.string(), remark: z.string(), at: Instant }).nullable(),
});
export type StockRequestOut = z.infer<typeof StockRequestOut>;
export const StockRequests = z.object({
  requests: z.array(StockRequestOut).describe('open ones first'),
  deciders: z.array(z.string()).describe('who else may decide'),
});
export type StockRequests = z.infer<typeof StockRequests>;
