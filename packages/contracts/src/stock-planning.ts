import { z } from 'zod';
import { Day, Entered, Id, Instant, MassMg, Name } from './basics.ts';
import { Substance } from './stock.ts';

/** What a supplier asks, as the studio noted it. Money as typed, in the studio's currency. */
export const OfferIn = z.object({
  id: Id,
  supplier: Name,
  substance: Substance,
  product: z.string().trim().max(80),
  pack: Entered,
  price: Entered.describe('of one pack'),
  freight: Entered.describe('of one delivery, whatever its size'),
  minimumPacks: Entered,
  purityPercent: Entered,
  leadDays: Entered,
});
export type OfferIn = z.infer<typeof OfferIn>;
export const OfferOut = z.object({
  id: Id,
  supplier: z.string(),
  substance: Substance,
  product: z.string(),
  packMg: MassMg,
  priceMinor: z.int(),
  freightMinor: z.int(),
  minimumPacks: z.int(),
  purityPercent: z.number(),
  leadDays: z.int(),
  notedAt: Instant,
  perPureKgMinor: z.number().describe('landed, for the least that can be ordered'),
});
export type OfferOut = z.infer<typeof OfferOut>;

export const SubstancePlan = z.object({
  substance: Substance,
  onShelfMg: MassMg,
  inDateMg: MassMg.describe('of lots that are not past their best-before day'),
  weeklyUseMg: MassMg.describe('mean of the last twelve weeks'),
  scheduled: z.array(
    z.object({ classId: Id, title: z.string(), day: Day, needMg: MassMg, estimated: z.boolean().describe('a draft: worked out from other classes') }),
  ),
  coverDays: z.int().nullable().describe('days until it runs out; null when nothing is used or it lasts two years'),
  reorderPointMg: MassMg,
  reorder: z.boolean(),
  proposal: z
    .object({
      offerId: Id,
      supplier: z.string(),
      product: z.string(),
      packs: z.int(),
      massMg: MassMg,
      costMinor: z.int(),
      perPureKgMinor: z.number(),
      arrivesInTime: z.boolean(),
    })
    .nullable(),
  words: z.string(),
});
export type SubstancePlan = z.infer<typeof SubstancePlan>;
export const StockPlan = z.object({ currency: z.string(), storageLimitMg: MassMg, substances: z.array(SubstancePlan), offers: z.array(OfferOut) });
export type StockPlan = z.infer<typeof StockPlan>;
