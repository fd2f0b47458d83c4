export type Offer = { packMg: number; priceMinor: number; freightMinor: number; minimumPacks: number; purityPercent: number };
export type Landed = { packs: number; massMg: number; pureMg: number; costMinor: number; perPureKgMinor: number };

/** Milligrams in a kilogram. */
const KG_MG = 1_000_000;

/**
 * What so many packs cost delivered, and per kilogram of pure hydroxide: price times packs and the freight once, over mass times
 * purity. Never fewer packs than the supplier sells. Money in minor units (cents).
 */
export function landedCost(offer: Offer, wantedPacks: number): Landed {
  const packs = Math.max(offer.minimumPacks, wantedPacks);
  const massMg = packs * offer.packMg;
  const pureMg = (massMg * offer.purityPercent) / 100;
  const costMinor = packs * offer.priceMinor + offer.freightMinor;
  return { packs, massMg, pureMg, costMinor, perPureKgMinor: (costMinor * KG_MG) / pureMg };
}
