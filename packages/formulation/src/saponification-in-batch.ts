import type { Fat } from './fats.ts';
import type { Interval } from './outcome.ts';

/**
 * Least a wax takes up in water without long boiling, mg KOH per g: its free acids, which react at
 * once. Beeswax: acid value from 17 (Ph. Eur.). Jojoba has next to no free acid, so nothing is sure.
 */
const SURE_OF_WAX: Readonly<Record<string, number>> = { beeswax: 17 };

/**
 * What a fat takes up in a batch, mg KOH per g. For a fat it is the saponification value. A wax is
 * measured by hours of boiling in alcohol (Ph. Eur. Beeswax: three hours under reflux with xylene); in
 * a batch its esters may stay whole, and alkali weighed for them stays free. So its low end is only its
 * free acid: the worst case a superfat band must reckon with.
 */
export function saponificationInBatch(fat: Fat): Interval {
  const { low, nominal, high } = fat.saponificationValue;
  return fat.kind === 'wax' ? { low: Math.min(low, SURE_OF_WAX[fat.key] ?? 0), nominal, high } : { low, nominal, high };
}
