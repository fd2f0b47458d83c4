import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg } from './basics.ts';
import { Substance } from './stock.ts';

/** What became of caustic that left the cabinet for a class and that no card weighed, or the other way round. */
export const DifferenceKind = z.enum(['spilled', 'left in the vessel', 'reading missing', 'weighing', 'unknown']);
export type DifferenceKind = z.infer<typeof DifferenceKind>;
export const ExplainDifference = z.object({
  id: Id,
  substance: Substance,
  kind: DifferenceKind,
  mass: Entered.describe('how much of the difference this explains'),
  remark: Line,
});
export type ExplainDifference = z.infer<typeof ExplainDifference>;

export const ClassDifferenceOut = z.object({
  classId: Id,
  classTitle: z.string(),
  startsAt: Instant,
  substance: Substance,
  outMg: MassMg.describe('handed out to it and not taken back yet'),
  leftMg: MassMg.describe('left the cabinet for it for good: handed out less taken back'),
  weighedMg: MassMg.describe('weighed at its stations, by the readings that stand'),
  cards: z.int().describe('cards with such a reading, discarded ones among them'),
  differenceMg: MassMg.describe('above 0: more left than was weighed'),
  standardUncertaintyMg: z.number(),
  explainedMg: MassMg,
  openMg: MassMg.describe('the difference without what is explained'),
  verdict: z.enum(['still out', 'agrees', 'explained', 'unclear', 'does not agree']),
  words: z.string(),
  explanations: z.array(z.object({ id: Id, kind: DifferenceKind, massMg: MassMg, remark: z.string(), at: Instant, byName: z.string() })),
});
export type ClassDifferenceOut = z.infer<typeof ClassDifferenceOut>;
export const ClassDifferences = z.object({
  open: z.array(ClassDifferenceOut).describe('carried until explained, newest class first'),
  settled: z.array(ClassDifferenceOut).describe('still out, agreeing or explained; newest class first'),
});
