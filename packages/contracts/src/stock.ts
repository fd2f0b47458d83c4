import { z } from 'zod';
import { Day, Entered, Id, Instant, Line, MassMg, Name } from './basics.ts';

export const Substance = z.enum(['NaOH', 'KOH']);
export type Substance = z.infer<typeof Substance>;
export const SUBSTANCE_NAMES: Record<Substance, string> = { NaOH: 'Sodium hydroxide', KOH: 'Potassium hydroxide' };

/** What a certificate's assay counts: an acid titration finds carbonate too, unless it was taken off. */
export const AssayIs = z.enum(['hydroxide', 'total alkali']);
export type AssayIs = z.infer<typeof AssayIs>;

export const ContainerIn = z.object({ id: Id, label: Name, gross: Entered, tare: Entered });
export const ReceiveLot = z.object({
  id: Id,
  substance: Substance,
  supplier: Name,
  lotNumber: Name,
  purityPercent: Entered,
  purityUncertaintyPercent: Entered,
  assayIs: AssayIs.optional().describe('hydroxide when left out'),
  carbonatePercent: Entered.optional().describe('the most carbonate the certificate allows; may stay blank'),
  waterPercent: Entered.optional().describe('the most water the certificate allows; may stay blank'),
  sdsLink: z.url({ error: 'Give the web address of the safety data sheet.', protocol: /^https?$/ }).max(500),
  sdsRevisedOn: Day.nullable(),
  scaleStep: Entered,
  containers: z.array(ContainerIn).min(1, 'Add at least one container.').max(40),
});
export type ReceiveLot = z.infer<typeof ReceiveLot>;

export const ContainerOut = z.object({
  id: Id,
  label: z.string(),
  lotId: Id,
  lotNumber: z.string(),
  substance: Substance,
  tareMg: MassMg,
  receivedMg: MassMg,
  balanceMg: MassMg,
  outMg: MassMg.describe('handed out and not yet returned'),
});
export type ContainerOut = z.infer<typeof ContainerOut>;
export const LotOut = z.object({
  id: Id,
  substance: Substance,
  supplier: z.string(),
  lotNumber: z.string(),
  purityPercent: z.number(),
  purityUncertaintyPercent: z.number(),
  assayIs: AssayIs,
  carbonatePercent: z.number().nullable(),
  waterPercent: z.number().nullable(),
  hydroxidePercent: z.object({ low: z.number(), high: z.number() }).describe('what the certificate leaves as hydroxide'),
  sdsLink: z.string(),
  sdsRevisedOn: Day.nullable(),
  receivedAt: Instant,
  balanceMg: MassMg,
  containers: z.array(ContainerOut),
});
export type LotOut = z.infer<typeof LotOut>;
export const Cabinet = z.object({ lots: z.array(LotOut) });

export const CheckOut = z.object({ id: Id, containerId: Id, classId: Id, mass: Entered, scaleStep: Entered });
export type CheckOut = z.infer<typeof CheckOut>;
export const ReturnCheckOut = z.object({ mass: Entered, scaleStep: Entered });
export const CheckOutOut = z.object({
  id: Id,
  containerId: Id,
  containerLabel: z.string(),
  substance: Substance,
  lotNumber: z.string(),
  classId: Id,
  classTitle: z.string(),
  massMg: MassMg,
  at: Instant,
  byName: z.string(),
  returnedMg: MassMg.nullable(),
  returnedAt: Instant.nullable(),
  usedMg: MassMg.nullable(),
});
export const CheckOuts = z.object({ checkouts: z.array(CheckOutOut) });

export const CountShelf = z.object({
  id: Id,
  scaleStep: Entered,
  lines: z
    .array(z.object({ containerId: Id, gross: Entered }))
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
});
export const CountOut = z.object({
  id: Id,
  at: Instant,
  byName: z.string(),
  scaleStepMg: MassMg,
  results: z.array(CountResult),
  lines: z.array(z.object({ containerLabel: z.string(), substance: Substance, grossMg: MassMg, netMg: MassMg, bookMg: MassMg })),
});
export type CountOut = z.infer<typeof CountOut>;
export const Counts = z.object({ counts: z.array(CountOut) });

export const Remark = Line;
