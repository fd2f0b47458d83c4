import { landedCost } from './landed-cost.ts';
import type { Landed, Offer } from './landed-cost.ts';

/** What a class will take, so many days from today. */
export type Need = { inDays: number; needMg: number };
export type Demand = { needs: readonly Need[]; weeklyUseMg: number };

const WEEK = 7;
/** Farther than this nothing is foreseen. */
const HORIZON_DAYS = 730;
/** Kept in hand beyond what is expected, in weeks of mean use: the studio's own caution, common practice, no source. */
export const SAFETY_WEEKS = 2;
/** A delivery is meant to last so long beyond the reorder point, weeks: common practice, no source. */
const LAST_WEEKS = 4;
/** Assumed where no supplier is noted, days. */
export const USUAL_LEAD_DAYS = 14;

/** What is expected to be used within so many days: the classes that are planned, and after the last of them the mean of the past. */
export function expectedUseMg({ needs, weeklyUseMg }: Demand, days: number): number {
  const planned = needs.filter(({ inDays }) => inDays <= days).reduce((sum, { needMg }) => sum + needMg, 0);
  const last = Math.max(0, ...needs.map(({ inDays }) => inDays));
  return Math.round(planned + (Math.max(0, days - last) * weeklyUseMg) / WEEK);
}

/** The last day, counted from today, on which what there is suffices; null when it lasts beyond the horizon. */
export function coverDays(demand: Demand, haveMg: number): number | null {
  for (let day = 0; day <= HORIZON_DAYS; day += 1) if (expectedUseMg(demand, day) > haveMg) return day;
  return null;
}

/** At or below this it is time to order: what is expected to go while the delivery is on its way, and a reserve. */
export const reorderPointMg = (demand: Demand, leadDays: number): number => expectedUseMg(demand, leadDays) + SAFETY_WEEKS * demand.weeklyUseMg;

export type Noted = Offer & { id: string; leadDays: number };
export type Proposal = Landed & { offer: Noted; arrivesInTime: boolean };
/** `no-offer`: nobody sells it; `no-room`: the least that can be ordered would pass the storage limit. */
export type Restock = { kind: 'proposal'; proposal: Proposal } | { kind: 'no-offer' } | { kind: 'no-room' };

/**
 * The cheapest landed offer per pure kilogram that arrives before the stock runs out, or the quickest if none does, never more than
 * the room that is left under the storage limit. Nothing is ordered by it.
 */
export function restock(demand: Demand, inDateMg: number, roomMg: number, offers: readonly Noted[]): Restock {
  if (offers.length === 0) return { kind: 'no-offer' };
  const cover = coverDays(demand, inDateMg) ?? HORIZON_DAYS;
  const candidates = offers.flatMap((offer): Proposal[] => {
    const wantedMg = reorderPointMg(demand, offer.leadDays) + LAST_WEEKS * demand.weeklyUseMg - inDateMg;
    const fitting = Math.floor(roomMg / offer.packMg);
    const packs = Math.min(fitting, Math.max(1, Math.ceil(wantedMg / offer.packMg)));
    if (packs < offer.minimumPacks)
      return fitting < offer.minimumPacks ? [] : [{ ...landedCost(offer, offer.minimumPacks), offer, arrivesInTime: offer.leadDays <= cover }];
    return [{ ...landedCost(offer, packs), offer, arrivesInTime: offer.leadDays <= cover }];
  });
  if (candidates.length === 0) return { kind: 'no-room' };
  const inTime = candidates.filter(({ arrivesInTime }) => arrivesInTime);
  const best =
    inTime.length > 0
      ? inTime.toSorted((a, b) => a.perPureKgMinor - b.perPureKgMinor)[0]!
      : candidates.toSorted((a, b) => a.offer.leadDays - b.offer.leadDays || a.perPureKgMinor - b.perPureKgMinor)[0]!;
  return { kind: 'proposal', proposal: best };
}
