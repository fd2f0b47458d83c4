import { z } from 'zod';
import { Day, Id, Instant, MassMg } from './basics.ts';
import { Substance } from './stock.ts';

/** Which lines of the ledger are asked for; what is left out does not narrow. `before`: lines with a smaller number only. */
export const LedgerQuery = z.object({
  substance: Substance.optional(),
  lotId: Id.optional(),
  containerId: Id.optional(),
  classId: Id.optional(),
  accountId: Id.optional(),
  kind: z.string().max(20).optional(),
  fromDay: Day.optional(),
  toDay: Day.optional(),
  before: z.coerce.number().int().positive().optional(),
  limit: z.coerce.number().int().min(1).max(1000).default(200),
});
export type LedgerQuery = z.infer<typeof LedgerQuery>;
export const LedgerLineOut = z.object({
  seq: z.int(),
  at: Instant,
  kind: z.string(),
  substance: Substance,
  lotNumber: z.string(),
  fromPlace: z.string(),
  toPlace: z.string(),
  massMg: MassMg,
  byName: z.string(),
  reason: z.string(),
  scaleName: z.string().nullable(),
  reversesSeq: z.int().nullable(),
  balanceMg: MassMg.nullable().describe('after this line: of the container asked for, else of the substance on the shelf; null where the filter has gaps'),
});
export type LedgerLineOut = z.infer<typeof LedgerLineOut>;
export const Ledger = z.object({
  lines: z.array(LedgerLineOut),
  older: z.int().nullable().describe('the `before` of the next page, null at the end'),
  choices: z.object({
    containers: z.array(z.object({ id: Id, name: z.string() })),
    lots: z.array(z.object({ id: Id, name: z.string() })),
    classes: z.array(z.object({ id: Id, name: z.string() })),
    people: z.array(z.object({ id: Id, name: z.string() })),
    kinds: z.array(z.string()),
  }),
});
/** A check reads every line. `upTo`: only where the ledger has no more lines than this; a long one is checked when somebody asks. */
export const LedgerCheckQuery = z.object({ upTo: z.coerce.number().int().positive().optional() });
export const LedgerCheck = z.object({
  intact: z.boolean().nullable().describe('null: not checked now'),
  lines: z.int(),
  words: z.string(),
  headHash: z.string(),
});

/** One substance in a period. All masses mg; what came in and went out by the kind of line. */
export const BalanceOfSubstance = z.object({
  substance: Substance,
  openingMg: MassMg,
  inMg: z.array(z.object({ kind: z.string(), massMg: MassMg })),
  outMg: z.array(z.object({ kind: z.string(), massMg: MassMg })),
  closingMg: MassMg,
  handedOutMg: MassMg.describe('out of the cabinet at the end of the period'),
  unaccountedMg: MassMg.describe('written off up to the end of the period, positive when missing'),
  count: z
    .object({ day: Day, countedMg: MassMg, unaccountedMg: MassMg, standardUncertaintyMg: z.number(), verdict: z.string(), words: z.string() })
    .nullable()
    .describe('the last count in the period'),
});
export type BalanceOfSubstance = z.infer<typeof BalanceOfSubstance>;
export const MakeReport = z.object({ id: Id, fromDay: Day, toDay: Day });
export const ReportSummary = z.object({ id: Id, number: z.string(), fromDay: Day, toDay: Day, at: Instant, byName: z.string(), signatures: z.int() });
export const Reports = z.object({ reports: z.array(ReportSummary) });
export const ReportOut = ReportSummary.omit({ signatures: true }).extend({
  substances: z.array(BalanceOfSubstance),
  lines: z.int(),
  headSeq: z.int(),
  headHash: z.string(),
  stillThere: z.boolean().describe('whether the ledger still has the line this report was closed on, unchanged'),
  signatures: z.array(z.object({ byName: z.string(), at: Instant, mine: z.boolean() })),
});
export type ReportOut = z.infer<typeof ReportOut>;

/** What the charts draw: the shelf at the end of each day, and each class's use against its cards. */
export const StockCharts = z.object({
  days: z.array(z.object({ day: Day, NaOH: MassMg, KOH: MassMg })),
  classes: z.array(z.object({ classId: Id, title: z.string(), day: Day, substance: Substance, plannedMg: MassMg, usedMg: MassMg })),
});
export type StockCharts = z.infer<typeof StockCharts>;

export const LotsFile = z.object({ csv: z.string() });
export const ImportLots = z.object({ csv: z.string().max(500_000) });
export const ImportedLots = z.object({ lots: z.int(), containers: z.int() });
