import type { LotOut } from '@ashwater/contracts';

/** What a lot should be looked at for, a sentence each: past or near its best-before day, an old or undated sheet, papers that disagree. */
export function needsAttention(lot: LotOut): { lotId: string; lotNumber: string; words: string }[] {
  const said = [lot.expiry.words, lot.sheet.words, lot.papersDisagree === '' ? '' : `The delivery was not as its papers say: ${lot.papersDisagree}`];
  return said.filter((words) => words !== '').map((words) => ({ lotId: lot.id, lotNumber: lot.lotNumber, words }));
}
