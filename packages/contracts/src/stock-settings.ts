import { z } from 'zod';
import { Entered, MassMg } from './basics.ts';

/** Longest a solution jar may stand, days. Ours: what is older has weakened by an amount nobody knows. A studio may ask for less. */
export const MOST_JAR_DAYS = 14;

/** The studio's own limits for its stock. */
export const StockSettings = z.object({
  sdsDays: z.int().describe('a safety data sheet older than this is told'),
  storageLimitMg: MassMg.describe('the most caustic that may stand in the studio'),
  twoPersonOverMg: MassMg.describe('a hand-out of more than this takes a second person'),
  twoPersonKeys: z.boolean().describe('every hand-out takes a second person: the cabinet has two keys'),
  checkoutHours: z.int().describe('what is handed out is due back after this'),
  currency: z.string().describe('ISO 4217'),
  jarDays: z.int(),
});
export type StockSettings = z.infer<typeof StockSettings>;
export const ChangeStockSettings = z.object({
  sdsDays: Entered,
  storageLimit: Entered,
  twoPersonOver: Entered,
  twoPersonKeys: z.boolean(),
  checkoutHours: Entered,
  currency: Entered,
  jarDays: Entered,
});
export type ChangeStockSettings = z.infer<typeof ChangeStockSettings>;
