import { lotHydroxide } from '@ashwater/contracts';
import type { CabinetStand, ContainerOut, LotCertificate, LotDetail, LotOut, ReceiveLot } from '@ashwater/contracts';
import type { Interval } from '@ashwater/formulation';
import { newId } from '../../../ids.ts';
import { notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { dayIn } from '../../../days.ts';
import { EnteredFields } from '../entered.ts';
import { containerPlace, SUPPLIER } from '../ledger.ts';
import { postLine } from '../ledger-store.ts';
import { readLot } from '../lot-input.ts';
import { papersOf, recordPaper, sheetStand } from '../papers/service.ts';
import { readScale } from '../scales/service.ts';
import * as shelf from '../store.ts';
import { decimalsOf, expiryOf, limitWords } from './stand.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/** What was received was checked before it was stored; a row that no longer passes is a fault of ours. */
export function hydroxideOf(lot: LotCertificate): Interval {
  const content = lotHydroxide(lot);
  if (!content.ok) throw new Error(`a stored certificate does not stand: ${content.problems[0]?.detail ?? ''}`);
  return content.value;
}

/** How many digits the studio's currency has after its comma. */
export const currencyDecimals = async ({ tx, studio }: StaffContext): Promise<number> => decimalsOf((await store.limits(tx, studio.id)).currency);

/** Books a delivery: the lot, its papers, its containers as weighed, and a ledger line for each. Answers with what is worth a second look. */
export async function receiveLot(context: StaffContext, input: ReceiveLot): Promise<{ id: string; warnings: string[] }> {
  const { tx } = context;
  const { containers, scaleStepMg: _typed, ...figures } = readLot(input, await currencyDecimals(context));
  const entered = new EnteredFields();
  // Read already; here only to be held against what the scale bears.
  input.containers.forEach(({ gross }, index) => entered.massMg(gross, `/containers/${index}/gross`));
  const on = await readScale(context, entered, input);
  entered.refuse();
  const by = postingOf(context);
  const { product = '', grade = '', papersDisagree = '', bestBefore = null } = input;
  await store.insertLot(tx, by, { ...input, ...figures, product, grade, papersDisagree, bestBefore });
  await recordPapers(context, input);
  for (const container of containers) {
    await store.insertContainer(tx, by, { ...container, ...on, lotId: input.id });
    await postLine(tx, by, {
      id: newId(),
      kind: 'receipt',
      lotId: input.id,
      fromPlace: SUPPLIER,
      toPlace: containerPlace(container.id),
      massMg: container.grossMg - container.tareMg,
      ...on,
      subjectId: input.id,
      reason: '',
    });
  }
  await audit(context, 'received a lot', `lot:${input.id}`, {
    substance: input.substance,
    containers: containers.length,
    ...(papersDisagree ? { papersDisagree } : {}),
  });
  await announce(context, { kind: 'stock-changed', subjectId: input.id });
  const [lot] = await readLots(context, input.id);
  const { limitWords: over } = await standOfCabinet(context);
  return { id: input.id, warnings: [over, lot!.sheet.words, lot!.expiry.stand === 'past' ? lot!.expiry.words : ''].filter((words) => words !== '') };
}

async function recordPapers(context: StaffContext, input: ReceiveLot): Promise<void> {
  const sheet = { id: newId(), kind: 'safety data sheet', link: input.sdsLink, fileId: input.sdsFileId ?? null, revisedOn: input.sdsRevisedOn } as const;
  await recordPaper(context, input.id, sheet, { link: '/sdsLink', fileId: '/sdsFileId' });
  const { certificateLink = '', certificateFileId = null } = input;
  if (certificateLink === '' && certificateFileId === null) return;
  const certificate = { id: newId(), kind: 'certificate', link: certificateLink, fileId: certificateFileId, revisedOn: null } as const;
  await recordPaper(context, input.id, certificate, { link: '/certificateLink', fileId: '/certificateFileId' });
}

export type LotPapers = { link: string; revisedOn: string | null; limitDays: number; expiryWords: string };
/** What a class has to know of a lot's papers before it is held: its newest sheet against the studio's limit, and its best-before day. */
export async function papersForClass({ tx, studio, now }: StaffContext, lotId: string): Promise<LotPapers | undefined> {
  const [lot] = await shelf.lots(tx, studio.id, lotId);
  if (!lot) return undefined;
  const { sdsDays: limitDays } = await store.limits(tx, studio.id);
  const link = lot.sdsLink || (lot.sdsFileId === null ? '' : `/api/stock-files/${lot.sdsFileId}`);
  return { link, revisedOn: lot.sdsRevisedOn, limitDays, expiryWords: expiryOf(lot.bestBefore, dayIn(studio.timeZone, now)).words };
}

async function readLots({ tx, studio, now }: StaffContext, id: string | null): Promise<LotOut[]> {
  const { sdsDays } = await store.limits(tx, studio.id);
  const today = dayIn(studio.timeZone, now);
  const lots = await shelf.lots(tx, studio.id, id);
  const byLot = Map.groupBy<string, ContainerOut>(await shelf.containers(tx, studio.id), (container) => container.lotId);
  return lots.map(({ receivedAt, receivedByName: _name, ...lot }) => {
    const containers = byLot.get(lot.id) ?? [];
    const { low, high } = hydroxideOf(lot);
    return {
      ...lot,
      hydroxidePercent: { low, high },
      sheet: sheetStand(lot.sdsRevisedOn, today, sdsDays),
      expiry: expiryOf(lot.bestBefore, today),
      receivedAt: receivedAt.toISOString(),
      containers,
      balanceMg: containers.reduce((sum, { balanceMg }) => sum + balanceMg, 0),
    };
  });
}

/** Every lot with its containers as they stand, newest first. */
export const readCabinet = (context: StaffContext): Promise<LotOut[]> => readLots(context, null);

/** The whole cabinet against the studio's limits, and what waits in it. */
export async function standOfCabinet({ tx, studio, now }: StaffContext): Promise<CabinetStand> {
  const { storageLimitMg: limitMg, currency } = await store.limits(tx, studio.id);
  const totalMg = (await shelf.containers(tx, studio.id)).reduce((sum, { balanceMg, outMg }) => sum + balanceMg + outMg, 0);
  const scales = await store.scalesInUse(tx, studio.id);
  return { totalMg, limitMg, limitWords: limitWords(totalMg, limitMg), currency, scales, ...(await store.waiting(tx, studio.id, now)) };
}

/** One lot with all its papers, newest first. */
export async function readLotDetail(context: StaffContext, id: string): Promise<LotDetail> {
  const { tx, studio } = context;
  const [row] = await shelf.lots(tx, studio.id, id);
  const [lot] = await readLots(context, id);
  if (!row || !lot) throw notFound('The lot');
  const { currency } = await store.limits(tx, studio.id);
  return { ...lot, receivedByName: row.receivedByName, currency, papers: await papersOf(context, id) };
}
