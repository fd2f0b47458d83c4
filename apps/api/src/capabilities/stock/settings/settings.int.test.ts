import type { Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { ok } from '../../../testing/classroom.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const TYPED = { sdsDays: '730', storageLimit: '12.5 kg', twoPersonOver: '500', twoPersonKeys: true, checkoutHours: '8', currency: 'usd', jarDays: '10' };
const put = (change: object = {}) => studio.as.manager.put('/api/stock-settings', { ...TYPED, ...change });

test('the limits are the studio’s own, are audited with what they were, and hold at once', async () => {
  const before = {
    sdsDays: 1095,
    storageLimitMg: 25_000_000,
    twoPersonOverMg: 1_000_000,
    twoPersonKeys: false,
    checkoutHours: 12,
    currency: 'EUR',
    jarDays: 14,
  };
  expect(await ok(studio.as.owner.get('/api/stock-settings'))).toEqual(before);
  const after = { sdsDays: 730, storageLimitMg: 12_500_000, twoPersonOverMg: 500_000, twoPersonKeys: true, checkoutHours: 8, currency: 'USD', jarDays: 10 };
  expect(await ok(put())).toEqual(after);
  expect(await ok(studio.as.owner.get('/api/stock-settings'))).toEqual(after);
  const { rows } = await studio.admin.query<{ detail: object }>(`SELECT detail FROM audit WHERE action = 'changed the stock limits' ORDER BY seq DESC LIMIT 1`);
  expect(rows[0]!.detail).toMatchObject({ jarDays: 10, 'jarDays was': 14, twoPersonKeys: true, 'twoPersonKeys was': false });
});

test.each([
  ['/jarDays', { jarDays: '15' }],
  ['/jarDays', { jarDays: '0' }],
  ['/currency', { currency: 'EURO' }],
  ['/currency', { currency: '' }],
  ['/storageLimit', { storageLimit: '0' }],
  ['/checkoutHours', { checkoutHours: '0' }],
  ['/sdsDays', { sdsDays: '1.5' }],
  ['/twoPersonOver', { twoPersonOver: '' }],
])('a limit that cannot stand is refused at %s: %j', async (pointer, change) => {
  const before = await ok(studio.as.owner.get('/api/stock-settings'));
  const answer = await put(change);
  expect([answer.statusCode, answer.json<Problem>().errors?.map((fault) => fault.pointer)]).toEqual([422, [pointer]]);
  expect(await ok(studio.as.owner.get('/api/stock-settings'))).toEqual(before);
});

// ISO 4217: the yen has no smaller unit.
test('prices are in the currency’s own smallest unit', async () => {
  await ok(put({ currency: 'jpy' }));
  const offer = {
    supplier: 'Harbour Chemicals',
    substance: 'NaOH',
    product: '',
    pack: '5 kg',
    freight: '',
    minimumPacks: '',
    purityPercent: '99',
    leadDays: '9',
  };
  const note = (price: string) => studio.as.manager.post('/api/supplier-offers', { ...offer, id: newId(), price });
  expect((await note('41.5')).json<Problem>().errors?.[0]?.pointer).toBe('/price');
  await ok(note('4150'));
  const { offers } = await ok<{ offers: { priceMinor: number }[] }>(studio.as.manager.get('/api/stock-plan'));
  expect(offers.map(({ priceMinor }) => priceMinor)).toEqual([4150]);
});
