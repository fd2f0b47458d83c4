import type { LotOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { daysBetween } from '../../../days.ts';

/** A lot is told of so many days before its best-before day. Ours, no source. */
const SOON_DAYS = 60;

/** How a lot stands against its best-before day. Days are yyyy-mm-dd on the studio's calendar. */
export function expiryOf(bestBefore: string | null, today: string): LotOut['expiry'] {
  if (bestBefore === null) return { stand: 'none', words: '' };
  const left = daysBetween(today, bestBefore);
  if (left < 0)
    return {
      stand: 'past',
      words: `Best before ${bestBefore}, ${-left === 1 ? 'one day' : `${-left} days`} ago. Ask the supplier whether its certificate still holds.`,
    };
  if (left > SOON_DAYS) return { stand: 'in date', words: '' };
  return {
    stand: 'soon',
    words: left === 0 ? `Best before today, ${bestBefore}.` : `Best before ${bestBefore}, in ${left === 1 ? 'one day' : `${left} days`}.`,
  };
}

/** What is said when the studio holds more caustic than it allows itself; blank within the limit. Masses in mg. */
export function limitWords(totalMg: number, limitMg: number): string {
  if (totalMg <= limitMg) return '';
  return `The studio holds ${formatMass(totalMg)} of caustic, ${formatMass(totalMg - limitMg)} over its storage limit of ${formatMass(limitMg)}. Check with your insurer and the local rules before more is stored.`;
}

/** How many decimals a currency's amounts have: two for most, none for some. */
export const decimalsOf = (currency: string): number =>
  new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;
