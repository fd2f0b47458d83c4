import { lotHydroxide, middleAndHalf } from '@ashwater/contracts';
import type { CheckOutOut, ContainerOut, LotCertificate, LotOut, ReceiveLot, Substance } from '@ashwater/contracts';
import type { Interval } from '@ashwater/formulation';
import type { z } from 'zod';
import { newId } from '../../ids.ts';
import type { Tx } from '../../plugins/database/database.ts';
import type { StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { containerPlace, SUPPLIER } from './ledger.ts';
import { readLot } from './lot-input.ts';
import { checkOuts } from './handing-store.ts';
import * as books from './ledger-store.ts';
import * as store from './store.ts';

export { checkOut, takeBack } from './handing-service.ts';
export { bookJars, GONE, jarLots, standOf, takeFromJar } from './solution/service.ts';
export { countSheet, countShelf, readCounts } from './counts/service.ts';

/** What was received was checked before it was stored; a row that no longer passes is a fault of ours. */
function hydroxideOf(lot: LotCertificate): Interval {
  const content = lotHydroxide(lot);
  if (!content.ok) throw new Error(`a stored certificate does not stand: ${content.problems[0]?.detail ?? ''}`);
  return content.value;
}

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

/** Books a delivery: the lot, its containers as weighed, and a ledger line for each. */
export async function receiveLot(context: StaffContext, input: ReceiveLot): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const { containers, scaleStepMg, ...purity } = readLot(input);
  const by = { studioId: studio.id, accountId: actor.id, at: now };
  await store.insertLot(tx, by, { ...input, ...purity });
  for (const container of containers) {
    await store.insertContainer(tx, by, { ...container, lotId: input.id, scaleStepMg });
    await books.postLine(tx, by, {
      id: newId(),
      kind: 'receipt',
      lotId: input.id,
      fromPlace: SUPPLIER,
      toPlace: containerPlace(container.id),
      massMg: container.grossMg - container.tareMg,
      scaleStepMg,
      subjectId: input.id,
      reason: '',
    });
  }
  await audit(context, 'received a lot', `lot:${input.id}`, { substance: input.substance, containers: containers.length });
  await announce(context, { kind: 'stock-changed', subjectId: input.id });
  return { id: input.id };
}

export async function readCabinet({ tx, studio }: StaffContext): Promise<z.infer<typeof LotOut>[]> {
  const lots = await store.lots(tx, studio.id);
  const byLot = Map.groupBy<string, ContainerOut>(await store.containers(tx, studio.id), (container) => container.lotId);
  return lots.map(({ receivedAt, ...lot }) => {
    const containers = byLot.get(lot.id) ?? [];
    const { low, high } = hydroxideOf(lot);
    return {
      ...lot,
      hydroxidePercent: { low, high },
      receivedAt: receivedAt.toISOString(),
      containers,
      balanceMg: containers.reduce((sum, { balanceMg }) => sum + balanceMg, 0),
    };
  });
}

export async function readCheckOuts({ tx, studio }: StaffContext, classId: string | undefined): Promise<z.infer<typeof CheckOutOut>[]> {
  const rows = await checkOuts(tx, studio.id, { classId });
  return rows.map((row) => ({
    ...row,
    at: row.at.toISOString(),
    returnedAt: row.returnedAt?.toISOString() ?? null,
    usedMg: row.returnedMg === null ? null : row.massMg - row.returnedMg,
  }));
}
