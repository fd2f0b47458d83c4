import { z } from 'zod';
import { Id, Instant, IntervalOut, MassMg } from './basics.ts';

/** What is done next: as planned, to a new target, with something added or taken out, or not at all. */
export const ChangeAct = z.enum(['go on', 'new target', 'add', 'take out', 'discard']);

/** One line as it becomes, and what it was. */
export const ChangedLine = z.object({ key: z.string(), name: z.string(), wasMg: MassMg, targetMg: MassMg });

/** What could be done after a reading off target, worked out from all readings that stand. Nothing is changed by asking. */
export const ProposalOut = z.object({
  stepNo: z.int(),
  mixed: z.boolean().describe('whether what was weighed is in the pot and cannot come out'),
  act: ChangeAct,
  words: z.string(),
  superfatBandPercent: IntervalOut,
  lyeConcentrationPercent: z.number(),
  lines: z.array(ChangedLine),
  basis: z.array(Id).describe('the readings it was worked out from'),
});
export type ProposalOut = z.infer<typeof ProposalOut>;

/** The instructor's approval. The service works it out again and refuses it when other readings stand by now. */
export const ApproveChange = z.object({
  id: Id,
  stepNo: z.int(),
  mixed: z.boolean(),
  act: ChangeAct.describe('the act that was read and approved'),
  basis: z.array(Id).max(100),
});
export type ApproveChange = z.infer<typeof ApproveChange>;

/** A change of a card after it was issued: approved by an instructor, never undone, only followed by another. */
export const CardChangeOut = z.object({
  id: Id,
  stepNo: z.int(),
  act: ChangeAct,
  words: z.string(),
  at: Instant,
  byName: z.string(),
  lines: z.array(ChangedLine),
});
export type CardChangeOut = z.infer<typeof CardChangeOut>;
