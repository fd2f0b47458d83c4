import { middleAndHalf } from '@ashwater/contracts';
import type { Substance } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import { hydroxideOf } from './lots/service.ts';
import * as store from './store.ts';

export { currencyDecimals, papersForClass, readCabinet, receiveLot } from './lots/service.ts';
export { readCheckOuts } from './handing/service.ts';
export { bookJars, GONE, jarLots, standOf, takeFromJar } from './solution/service.ts';
export { countSheet, countShelf, readCounts } from './counts/service.ts';

export type LotPurity = { id: string; substance: Substance; lotNumber: string; purityPercent: number; purityUncertaintyPercent: number };
/**
 * What a class needs to know of a lot to plan with it: its hydroxide, percent by mass, and how far that can be off. For an assay of
 * total alkali that is less than the certificate's figure. Undefined when this studio has no lot with this id.
 */
export async function lotForPurity(tx: Tx, studioId: string, lotId: string): Promise<LotPurity | undefined> {
  const lot = await store.certifiedLot(tx, studioId, lotId);
  if (!lot) return undefined;
  const { id, substance, lotNumber, purityPercent, purityUncertaintyPercent } = lot;
  if (lot.assayIs === 'hydroxide') return { id, substance, lotNumber, purityPercent, purityUncertaintyPercent };
  const { percent, uncertaintyPercent } = middleAndHalf(hydroxideOf(lot));
  return { id, substance, lotNumber, purityPercent: percent, purityUncertaintyPercent: uncertaintyPercent };
}

/** The book balance of all containers of a lot, mg: what stands in the cabinet, without what is handed out. */
export const shelfMg = (tx: Tx, studioId: string, lotId: string): Promise<number> => store.lotOnShelfMg(tx, studioId, lotId);
