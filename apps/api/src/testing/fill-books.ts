import { newId } from '../ids.ts';
import { ok } from './classroom.ts';
import type { Caller } from './test-studio.ts';

export type Books = { reportId: string; requestId: string; offerId: string };

/** A report signed by one, a disposal that one asked for and another refused, one that waits, and a supplier's offer. */
export async function fillBooks(as: { owner: Caller; manager: Caller }, containerId: string, text: (what: string) => string): Promise<Books> {
  const [reportId, refusedId, requestId, offerId] = [newId(), newId(), newId(), newId()];
  await ok(as.manager.post('/api/balance-reports', { id: reportId, fromDay: '2026-01-01', toDay: '2026-01-31' }));
  await ok(as.manager.post(`/api/balance-reports/${reportId}/sign`, {}));
  await ok(as.manager.post('/api/stock-requests/disposal', { id: refusedId, containerId, mass: '1', reason: text('wet lump') }));
  await ok(as.owner.post(`/api/stock-requests/${refusedId}/decide`, { outcome: 'refused', remark: text('dry it first') }));
  await ok(as.manager.post('/api/stock-requests/disposal', { id: requestId, containerId, mass: '1', reason: text('another lump') }));
  const offer = {
    supplier: text('seller'),
    substance: 'NaOH',
    product: text('flakes'),
    pack: '25 kg',
    price: '45.00',
    freight: '12',
    minimumPacks: '1',
    purityPercent: '99',
    leadDays: '7',
  };
  await ok(as.manager.post('/api/supplier-offers', { id: offerId, ...offer }));
  return { reportId, requestId, offerId };
}
