import type { GearItem } from '@ashwater/contracts';

// Common practice, no source; the supplier's safety data sheet and local rules come first.
const ALWAYS: GearItem[] = [
  { key: 'goggles', name: 'Splash goggles', check: 'Sealed all round, over your own glasses too' },
  { key: 'face-shield', name: 'Face shield', check: 'Within reach, down over the goggles while mixing' },
  { key: 'gloves', name: 'Gloves', check: 'Long cuffs, no holes, over the sleeves' },
  { key: 'sleeves', name: 'Long sleeves', check: 'Down to the gloves, buttoned' },
  { key: 'trousers', name: 'Long trousers', check: 'Over the shoes, no bare ankle' },
  { key: 'shoes', name: 'Closed shoes', check: 'Nothing open on top' },
  { key: 'hair', name: 'Hair and scarves', check: 'Tied back, nothing hangs over the bench' },
];
const RESPIRATOR: GearItem = { key: 'respirator', name: 'Respirator', check: 'Fits your face; needed because less than half of the water is ice' };
/** With less ice than this the solution can steam: common practice, no source. */
const RESPIRATOR_BELOW_ICE_PERCENT = 50;

/** What everybody at the station must wear for this recipe: at most nine items, each confirmed on its own. */
export function gearFor(recipe: { iceSharePercent: number }): GearItem[] {
  return recipe.iceSharePercent < RESPIRATOR_BELOW_ICE_PERCENT ? [...ALWAYS, RESPIRATOR] : ALWAYS;
}
