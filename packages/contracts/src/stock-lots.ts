import { z } from 'zod';
import { Day, Entered, Id, Instant, Line, MassMg, Name } from './basics.ts';
import { PaperLink, PaperOut, SheetStand } from './stock-papers.ts';
import { WeighedOn } from './stock-scales.ts';
import { AssayIs, Substance } from './stock.ts';

const ContainerIn = z.object({ id: Id, label: Name, gross: Entered, tare: Entered });
export const ReceiveLot = WeighedOn.extend({
  id: Id,
  substance: Substance,
  supplier: Name,
  lotNumber: Name,
  product: Line.max(80).optional().describe('the supplier’s own name for it; may stay blank'),
  grade: Line.max(80).optional().describe('such as technical or food grade, with the form: pearls, flakes; may stay blank'),
  purityPercent: Entered,
  purityUncertaintyPercent: Entered,
  assayIs: AssayIs.optional().describe('hydroxide when left out'),
  carbonatePercent: Entered.optional().describe('the most carbonate the certificate allows; may stay blank'),
  waterPercent: Entered.optional().describe('the most water the certificate allows; may stay blank'),
  sdsLink: PaperLink.describe('blank only where the sheet is kept as a file'),
  sdsFileId: Id.nullable().optional(),
  sdsRevisedOn: Day.nullable(),
  certificateLink: PaperLink.optional(),
  certificateFileId: Id.nullable().optional(),
  bestBefore: Day.nullable().optional(),
  price: Entered.optional().describe('for the whole lot, in the studio’s currency'),
  freight: Entered.optional(),
  leadDays: Entered.optional().describe('from order to delivery'),
  papersDisagree: z.string().trim().max(500, 'Use at most 500 characters.').optional().describe('in what the delivery is not what its papers say'),
  containers: z.array(ContainerIn).min(1, 'Add at least one container.').max(40),
});
export type ReceiveLot = z.infer<typeof ReceiveLot>;
export const ReceivedLot = z.object({ id: Id, warnings: z.array(z.string()) });

export const BOTTLE_STATES = ['closed', 'opened', 'emptied', 'rinsed', 'disposed'] as const;
export const BottleState = z.enum(BOTTLE_STATES);
export type BottleState = z.infer<typeof BottleState>;
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
  state: BottleState,
  place: z.string().describe('where in the cabinet; blank until somebody says'),
  inHands: z.boolean().describe('the container itself is out'),
});
export type ContainerOut = z.infer<typeof ContainerOut>;

export const LotOut = z.object({
  id: Id,
  substance: Substance,
  supplier: z.string(),
  lotNumber: z.string(),
  product: z.string(),
  grade: z.string(),
  purityPercent: z.number(),
  purityUncertaintyPercent: z.number(),
  assayIs: AssayIs,
  carbonatePercent: z.number().nullable(),
  waterPercent: z.number().nullable(),
  hydroxidePercent: z.object({ low: z.number(), high: z.number() }).describe('what the certificate leaves as hydroxide'),
  sdsLink: z.string().describe('of the newest sheet; blank where it is a file'),
  sdsFileId: Id.nullable(),
  sdsRevisedOn: Day.nullable(),
  sheet: SheetStand,
  bestBefore: Day.nullable(),
  expiry: z.object({ stand: z.enum(['none', 'in date', 'soon', 'past']), words: z.string() }),
  priceMinor: z.int().nullable(),
  freightMinor: z.int().nullable(),
  leadDays: z.int().nullable(),
  papersDisagree: z.string(),
  receivedAt: Instant,
  balanceMg: MassMg,
  containers: z.array(ContainerOut),
});
export type LotOut = z.infer<typeof LotOut>;
export const LotDetail = LotOut.extend({ receivedByName: z.string(), currency: z.string(), papers: z.array(PaperOut) });
export type LotDetail = z.infer<typeof LotDetail>;

/** The cabinet as a whole, against the studio's limits. */
export const CabinetStand = z.object({
  totalMg: MassMg.describe('on the shelf and handed out'),
  limitMg: MassMg,
  limitWords: z.string().describe('blank within the limit'),
  currency: z.string(),
  openRequests: z.int(),
  scales: z.array(z.object({ id: Id, name: z.string(), stepMg: MassMg })).describe('the cabinet’s scales in use'),
  overdue: z.int().describe('handed out and not back in time'),
});
export type CabinetStand = z.infer<typeof CabinetStand>;
export const Cabinet = z.object({ lots: z.array(LotOut), stand: CabinetStand });
