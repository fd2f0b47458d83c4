import { z } from 'zod';
import { Entered, Id, Instant, Line, MassMg } from './basics.ts';
import { WeighedOn } from './stock-scales.ts';

export const Substance = z.enum(['NaOH', 'KOH']);
export type Substance = z.infer<typeof Substance>;
export const SUBSTANCE_NAMES: Record<Substance, string> = { NaOH: 'Sodium hydroxide', KOH: 'Potassium hydroxide' };

/** What a certificate's assay counts: an acid titration finds carbonate too, unless it was taken off. */
export const AssayIs = z.enum(['hydroxide', 'total alkali']);
export type AssayIs = z.infer<typeof AssayIs>;

export const CountShelf = WeighedOn.extend({
  id: Id,
  lines: z
    .array(
      z.object({
        containerId: Id,
        gross: Entered,
        first: Entered.optional().describe('what it weighed the first time, where it was weighed again before the book disagrees'),
      }),
    )
    .min(1, 'Weigh at least one container.')
    .max(200),
});
export type CountShelf = z.infer<typeof CountShelf>;
/** The sheet a counter works from: what to weigh, without the book's figure (a blind count). */
export const CountSheet = z.object({
  containers: z.array(z.object({ id: Id, label: z.string(), substance: Substance, lotNumber: z.string(), tareMg: MassMg })),
});
export const CountResult = z.object({
  substance: Substance,
  bookMg: MassMg,
  countedMg: MassMg,
  unaccountedMg: MassMg,
  standardUncertaintyMg: z.number(),
  verdict: z.string(),
  words: z.string(),
  sinceLast: z
    .object({ at: Instant.nullable(), unaccountedMg: MassMg, standardUncertaintyMg: z.number(), verdict: z.string(), times: z.number().nullable() })
    .optional()
    .describe('the period since these containers were last counted, from what was found then; `at` is null at the first count'),
  losses: z
    .object({ sum: z.number(), limit: z.number(), alarm: z.boolean(), since: Instant.nullable(), counts: z.int(), falseAlarmEvery: z.int() })
    .optional()
    .describe('the running test over all counts for losses too small for one count; `since` is the last count before they began'),
});
export const CountOut = z.object({
  id: Id,
  at: Instant,
  byName: z.string(),
  scaleStepMg: MassMg,
  results: z.array(CountResult),
  lines: z.array(
    z.object({
      containerId: Id,
      containerLabel: z.string(),
      substance: Substance,
      grossMg: MassMg,
      netMg: MassMg,
      bookMg: MassMg,
      toExplainMg: z.int().describe('book minus counted, less what was asked to be written off for it; negative: more was found than the book says'),
    }),
  ),
});
export type CountOut = z.infer<typeof CountOut>;
export const Counts = z.object({ counts: z.array(CountOut) });

export const Remark = Line;
