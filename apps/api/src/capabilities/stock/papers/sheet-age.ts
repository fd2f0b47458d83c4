import type { SheetStand } from '@ashwater/contracts';
import { daysBetween } from '../../../days.ts';

/**
 * Whether a lot's newest safety data sheet is still young enough for the studio.
 * @param revisedOn, today yyyy-mm-dd
 * @param limitDays the studio's limit; how old a sheet may be is the studio's own rule, no source
 */
export function sheetStand(revisedOn: string | null, today: string, limitDays: number): SheetStand {
  if (revisedOn === null)
    return { stand: 'date unknown', words: 'The revision date of the safety data sheet is not known. Ask the supplier which sheet is the newest.' };
  const age = daysBetween(revisedOn, today);
  if (age <= limitDays) return { stand: 'in date', words: '' };
  return {
    stand: 'old',
    words: `The safety data sheet was revised ${age} days ago; this studio’s limit is ${limitDays} days. Ask the supplier for the newest and add it to the lot.`,
  };
}
