import { expect, test } from 'vitest';
import { landedCost } from './landed-cost.ts';

// Worked by hand.
test.each([
  // 25 kg at 98 %: 45.00 and 12.00 freight for 24.5 kg pure: 57.00 / 24.5 = 2.326530… per kg
  [
    { packMg: 25_000_000, priceMinor: 4500, freightMinor: 1200, minimumPacks: 1, purityPercent: 98 },
    1,
    { packs: 1, costMinor: 5700, perPureKgMinor: 232.6530612 },
  ],
  // three bags share the freight: 147.00 / 73.5 = 2.00
  [{ packMg: 25_000_000, priceMinor: 4500, freightMinor: 1200, minimumPacks: 1, purityPercent: 98 }, 3, { packs: 3, costMinor: 14_700, perPureKgMinor: 200 }],
  // the least order is twelve bottles of 1 kg at 99 %: 12 x 3.30 = 39.60 for 11.88 kg: 3.3333…
  [
    { packMg: 1_000_000, priceMinor: 330, freightMinor: 0, minimumPacks: 12, purityPercent: 99 },
    5,
    { packs: 12, costMinor: 3960, perPureKgMinor: 333.3333333 },
  ],
])('%j, %d packs', (offer, wanted, { packs, costMinor, perPureKgMinor }) => {
  const landed = landedCost(offer, wanted);
  expect([landed.packs, landed.costMinor]).toEqual([packs, costMinor]);
  expect(landed.perPureKgMinor).toBeCloseTo(perPureKgMinor, 6);
});

test('cheap and weak can be dearer than dear and strong', () => {
  const weak = landedCost({ packMg: 1_000_000, priceMinor: 300, freightMinor: 0, minimumPacks: 1, purityPercent: 85 }, 1);
  const strong = landedCost({ packMg: 1_000_000, priceMinor: 340, freightMinor: 0, minimumPacks: 1, purityPercent: 99 }, 1);
  expect(weak.perPureKgMinor).toBeGreaterThan(strong.perPureKgMinor);
});
