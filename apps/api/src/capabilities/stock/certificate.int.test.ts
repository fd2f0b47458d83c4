import type { ClassOut, LotOut } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classBody, ok, publishedRecipe } from '../../testing/classroom.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';
import { lotForPurity } from './service.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

async function received(label: string, certificate: object): Promise<string> {
  const id = newId();
  const body = {
    id,
    substance: 'NaOH',
    supplier: 'Harbour Chemicals',
    lotNumber: `L-${label}`,
    purityPercent: '99',
    purityUncertaintyPercent: '0.5',
    sdsLink: 'https://example.org/sds',
    sdsRevisedOn: null,
    scaleStep: '1',
    containers: [{ id: newId(), label, gross: '1250', tare: '250' }],
  };
  await ok(studio.as.manager.post('/api/lots', { ...body, ...certificate }));
  return id;
}
const TOTAL = { assayIs: 'total alkali', carbonatePercent: '3', waterPercent: '0.5' };

test('a lot certified by total alkali is planned with the hydroxide its carbonate leaves', async () => {
  const lotId = await received('T-1', TOTAL);
  const lot = await studio.app.db.transact(studio.studioId, (tx) => lotForPurity(tx, studio.studioId, lotId));
  // 39.997 and 105.988 g/mol (IUPAC abridged atomic weights 2021); one carbonate titrates as two hydroxides, so 3 % of it reads as 2.264 % too much.
  const low = 98.5 - (3 * 2 * 39.997) / 105.988;
  expect(lot!.purityPercent - lot!.purityUncertaintyPercent).toBeCloseTo(low, 2);
  expect(lot!.purityPercent + lot!.purityUncertaintyPercent).toBeCloseTo(99.5, 2);

  const { versionId } = await publishedRecipe(studio);
  const needMg = async (naohLotId: string) => {
    const body = { ...(await classBody(studio, versionId, { setUp: () => ({ scaleStep: '0.1 g', scaleCapacity: '3000 g' }) })), naohLotId };
    await ok(studio.as.instructor.post('/api/classes', body));
    const [station] = (await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${body.id}`))).readiness;
    expect(station!.safe, station!.words).toBe(true);
    return station!.naohMg;
  };
  const weaker = await needMg(lotId);
  const asHydroxide = await needMg(await received('H-1', { assayIs: 'hydroxide', carbonatePercent: '3' }));
  // The alkali is rounded down to what the scale can show, never up, so the gain may stay a little below that of the middles.
  const gain = weaker / asHydroxide;
  expect(gain).toBeGreaterThan(1.005);
  expect(gain).toBeLessThan(99 / ((low + 99.5) / 2) + 0.001);
});

test('the cabinet shows the certificate and what it leaves as hydroxide', async () => {
  const lotId = await received('T-2', TOTAL);
  const lot = (await ok<{ lots: LotOut[] }>(studio.as.assistant.get('/api/cabinet'))).lots.find(({ id }) => id === lotId)!;
  expect(lot).toMatchObject({ assayIs: 'total alkali', purityPercent: 99, carbonatePercent: 3, waterPercent: 0.5 });
  expect(lot.hydroxidePercent.low).toBeCloseTo(96.236, 2);
  expect(lot.hydroxidePercent.high).toBe(99.5);
  const plain = (await ok<{ lots: LotOut[] }>(studio.as.assistant.get('/api/cabinet'))).lots.find(({ lotNumber }) => lotNumber === 'L-H-1')!;
  expect(plain).toMatchObject({ assayIs: 'hydroxide', hydroxidePercent: { low: 98.5, high: 99.5 }, waterPercent: null });
});
