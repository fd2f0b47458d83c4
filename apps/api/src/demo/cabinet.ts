import type { Client } from './client.ts';

type Keeper = { manager: Client; id(): string; daysFromNow(days: number, hour: number): string };
export type Lot = { lotId: string; containerIds: string[] };
export type DemoScales = { shelf: string; fine: string };

/** The cabinet's two scales, each checked with a known mass: one for whole containers, a finer one for small amounts. */
export async function cabinetScales({ manager, id }: Keeper): Promise<DemoScales> {
  const [shelf, fine] = [id(), id()];
  const plates = [
    { id: shelf, name: 'Shelf scale', step: '1 g', capacity: '15 kg', verificationInterval: '5 g', accuracyClass: 'III' },
    { id: fine, name: 'Fine scale', step: '0.1 g', capacity: '2 kg', verificationInterval: '', accuracyClass: '' },
  ];
  for (const plate of plates) await manager.post('/api/scales', plate);
  await manager.post(`/api/scales/${shelf}/checks`, { id: id(), known: '2 kg', knownLimit: '0.03 g', shown: '2001 g' });
  await manager.post(`/api/scales/${fine}/checks`, { id: id(), known: '500 g', knownLimit: '0.01 g', shown: '500.1 g' });
  return { shelf, fine };
}

type Delivery = { substance: 'NaOH' | 'KOH'; lotNumber: string; purity: string; labels: string[]; sheetDays: number; bestBeforeDays: number; price: string };
/** Supplier, product and figures are invented. */
export async function receive({ manager, id, daysFromNow }: Keeper, scaleId: string, delivery: Delivery): Promise<Lot> {
  const lotId = id();
  const containerIds = delivery.labels.map(() => id());
  const day = (days: number) => daysFromNow(days, 8).slice(0, 10);
  await manager.post('/api/lots', {
    id: lotId,
    substance: delivery.substance,
    supplier: 'Quarrybank Supplies (invented)',
    product: delivery.substance === 'NaOH' ? 'Caustic pearls' : 'Potash flakes',
    grade: 'technical',
    lotNumber: delivery.lotNumber,
    purityPercent: delivery.purity,
    purityUncertaintyPercent: '0.5',
    certificateLink: `https://supplier.example/certificate/${delivery.lotNumber}`,
    sdsLink: 'https://supplier.example/safety-data-sheet',
    sdsRevisedOn: day(-delivery.sheetDays),
    bestBefore: day(delivery.bestBeforeDays),
    price: delivery.price,
    freight: '7.90',
    leadDays: '9',
    scaleId,
    containers: delivery.labels.map((label, i) => ({ id: containerIds[i], label, gross: '2118 g', tare: '118 g' })),
  });
  return { lotId, containerIds };
}

/** Where the containers stand, and that one was opened and closed again. */
export async function shelve({ manager, id }: Keeper, lots: readonly Lot[]): Promise<void> {
  const all = lots.flatMap(({ containerIds }) => containerIds);
  for (const [i, containerId] of all.entries())
    await manager.post(`/api/containers/${containerId}/acts`, { id: id(), kind: 'moved', remark: `Lower shelf, place ${i + 1}` });
  for (const kind of ['opened', 'closed']) await manager.post(`/api/containers/${all[0]}/acts`, { id: id(), kind, remark: '' });
}

/** A little for a test that was due back the day before yesterday and has not come. */
export async function lateErrand({ manager, id, daysFromNow }: Keeper, containerId: string, scaleId: string): Promise<void> {
  await manager.post('/api/checkouts', {
    id: id(),
    containerId,
    purpose: 'test',
    mass: '25 g',
    scaleId,
    dueAt: daysFromNow(-2, 18),
    remark: 'Trial batch of a liquid soap',
  });
}

/** What two invented suppliers ask, so that the plan has something to compare: the nearer one is dearer. */
export async function offers({ manager, id }: Keeper): Promise<void> {
  const far = { supplier: 'Quarrybank Supplies (invented)', freight: '7.90', minimumPacks: '2', leadDays: '9' };
  const near = { supplier: 'Harrow Lane Chemists (invented)', freight: '4.50', minimumPacks: '1', leadDays: '3' };
  for (const offer of [
    { ...far, substance: 'NaOH', product: 'Caustic pearls', pack: '2 kg', price: '11.80', purityPercent: '99' },
    { ...near, substance: 'NaOH', product: 'Caustic beads', pack: '1 kg', price: '9.20', purityPercent: '98.5' },
    { ...far, substance: 'KOH', product: 'Potash flakes', pack: '2 kg', price: '15.60', purityPercent: '90' },
  ])
    await manager.post('/api/supplier-offers', { id: id(), ...offer });
}
