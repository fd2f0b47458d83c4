import { z } from 'zod';
import { Entered, Id, Instant, Line } from './basics.ts';
import { OwnFat } from './recipes.ts';

/** A fat that is not in the service's list, as a supplier's certificate or data sheet describes it. Figures as typed; those marked so may stay blank. */
export const AddFat = z.object({
  id: Id,
  name: z.string().trim().max(80, 'Use at most 80 characters.'),
  botanicalName: Line.describe('the plant or animal it is from; may stay blank'),
  svLow: Entered.describe('lowest saponification value of the range, mg KOH per g'),
  svHigh: Entered,
  iodineLow: Entered.describe('g iodine per 100 g; both ends or neither'),
  iodineHigh: Entered,
  densityGPerMl: Entered.describe('at about 20 C; may stay blank'),
  unsaponifiablePercent: Entered.describe('matter that takes up no alkali; may stay blank'),
  source: Line.describe('the document the figures are from'),
  sourceOn: Entered.describe('the date on it, YYYY-MM-DD'),
});
export type AddFat = z.infer<typeof AddFat>;

export const RetireFat = z.object({});
export const FatOut = OwnFat.extend({
  addedAt: Instant,
  addedBy: z.string(),
  retiredAt: Instant.nullable(),
  usedBy: z.array(z.object({ id: Id, title: z.string() })).describe('recipes whose draft names it now'),
});
export type FatOut = z.infer<typeof FatOut>;
export const Fats = z.object({ fats: z.array(FatOut) });
export type Fats = z.infer<typeof Fats>;

const PREFIX = 'own:';
/** How a recipe names a fat of the studio's own. */
export const ownFatKey = (id: string): string => `${PREFIX}${id}`;
/** The id in such a key; undefined for a fat of the service's list. */
export const ownFatId = (fatKey: string): string | undefined => (fatKey.startsWith(PREFIX) ? fatKey.slice(PREFIX.length) : undefined);
