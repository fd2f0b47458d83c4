import type { Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bareClass } from '../../testing/bare-class.ts';
import type { BareClass } from '../../testing/bare-class.ts';
import { bringBack, handedOut, handOut, receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';
import { newId } from '../../ids.ts';
import { lotForPurity, shelfMg } from './service.ts';

let studio: TestStudio;
let saturday: BareClass;
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

type CabinetOut = {
  lots: { id: string; balanceMg: number; sdsRevisedOn: string; containers: { id: string; balanceMg: number; outMg: number; receivedMg: number }[] }[];
};
const container = async (id: string) => {
  const { lots } = (await studio.as.assistant.get('/api/cabinet')).json<CabinetOut>();
  return lots.flatMap((lot) => lot.containers).find((one) => one.id === id)!;
};
const refusal = (answer: { json<T>(): T; statusCode: number }) => {
  const { code, status, errors } = answer.json<Problem>();
  return { code, status, errors };
};

test('a received lot stands in the cabinet with its net masses', async () => {
  const { lotId, containerIds } = await receive(studio.as.manager, ['R-1', 'R-2'], { netG: 500 });
  const lot = (await studio.as.assistant.get('/api/cabinet')).json<CabinetOut>().lots.find(({ id }) => id === lotId);
  expect(lot).toMatchObject({ balanceMg: 1_000_000, sdsRevisedOn: '2026-01-31', purityPercent: 99, purityUncertaintyPercent: 0.5 });
  expect(await container(containerIds[0]!)).toMatchObject({ balanceMg: 500_000, receivedMg: 500_000, outMg: 0 });
  const other = await studio.app.db.transact(newId(), (tx) => lotForPurity(tx, studio.studioId, lotId));
  expect(other, 'another studio sees nothing of it').toBeUndefined();
  const inOrm = await studio.app.db.transactOrm(studio.studioId, async (tx) => [
    await lotForPurity(tx, studio.studioId, lotId),
    await shelfMg(tx, studio.studioId, lotId),
  ]);
  expect(inOrm).toEqual([{ id: lotId, substance: 'NaOH', lotNumber: 'L-R-1', purityPercent: 99, purityUncertaintyPercent: 0.5 }, 1_000_000]);
});

test('a container that weighs no more than its tare is refused at its field, and nothing is booked', async () => {
  const id = newId();
  const answer = await studio.as.manager.post('/api/lots', {
    id,
    substance: 'KOH',
    supplier: 'Harbour Chemicals',
    lotNumber: 'L-9',
    purityPercent: '90',
    purityUncertaintyPercent: '1',
    sdsLink: 'https://example.org/sds',
    sdsRevisedOn: null,
    scaleStep: '1',
    containers: [
      { id: newId(), label: 'K-1', gross: '1250', tare: '250' },
      { id: newId(), label: 'K-2', gross: '249', tare: '250' },
    ],
  });
  expect(refusal(answer)).toMatchObject({ code: 'input-refused', status: 422, errors: [{ pointer: '/containers/1/gross' }] });
  expect((await studio.admin.query('SELECT 1 FROM lot WHERE id = $1', [id])).rowCount).toBe(0);
});

test('of fifty takes of 30 g at once from the last kilogram, 33 are granted and none is oversold', async () => {
  const {
    containerIds: [last],
  } = await receive(studio.as.manager, ['LAST-1']);
  const answers = await Promise.all(Array.from({ length: 50 }, () => handOut(studio.as.manager, last!, saturday.classId, '30')));
  const statuses = answers.map(({ statusCode }) => statusCode);
  expect(statuses.filter((status) => status === 200)).toHaveLength(33);
  expect(statuses.filter((status) => status === 409)).toHaveLength(17);
  expect(await container(last!)).toMatchObject({ balanceMg: 10_000, outMg: 990_000 });
  const refused = answers.find(({ statusCode }) => statusCode === 409)!;
  expect(refusal(refused)).toMatchObject({
    code: 'container-holds-less',
    errors: [{ pointer: '/mass', detail: 'Container LAST-1 holds 10\u00a0g by the book; 30\u00a0g cannot leave it.' }],
  });
  expect((await studio.as.owner.get('/api/ledger/check')).json()).toMatchObject({ intact: true });
});

test('takes and returns that cross each other all finish, and the books add up', async () => {
  const {
    containerIds: [crossing],
  } = await receive(studio.as.manager, ['X-1']);
  const out = await Promise.all(Array.from({ length: 10 }, () => handedOut(studio.as.manager, crossing!, saturday.classId, '20')));
  const both = await Promise.all(out.flatMap((id) => [bringBack(studio.as.owner, id, '5'), handOut(studio.as.manager, crossing!, saturday.classId, '10')]));
  expect(both.map(({ statusCode }) => statusCode)).toEqual(Array.from({ length: 20 }, () => 200));
  // 1000 - 10 x 20 + 10 x 5 - 10 x 10
  expect(await container(crossing!)).toMatchObject({ balanceMg: 750_000, outMg: 100_000 });
});

test('what comes back goes into its container and the rest is booked as used, once', async () => {
  const {
    containerIds: [id],
  } = await receive(studio.as.manager, ['B-1']);
  const checkOutId = await handedOut(studio.as.manager, id!, saturday.classId, '300');
  expect(refusal(await bringBack(studio.as.manager, checkOutId, '304'))).toMatchObject({
    code: 'returned-more',
    status: 409,
    errors: [{ pointer: '/mass' }],
  });
  expect((await bringBack(studio.as.manager, checkOutId, '120')).statusCode, 'the refused return left nothing behind').toBe(200);
  expect(refusal(await bringBack(studio.as.manager, checkOutId, '1'))).toMatchObject({ code: 'already-returned', status: 409 });
  expect(await container(id!)).toMatchObject({ balanceMg: 820_000, outMg: 0 });
  const { checkouts } = (await studio.as.instructor.get(`/api/checkouts?classId=${saturday.classId}`)).json<{ checkouts: { id: string }[] }>();
  expect(checkouts.find((one) => one.id === checkOutId)).toMatchObject({
    containerLabel: 'B-1',
    classTitle: 'Saturday beginners',
    massMg: 300_000,
    returnedMg: 120_000,
    usedMg: 180_000,
    byName: 'Ada manager',
  });
  const { lines } = (await studio.as.owner.get('/api/ledger')).json<{ lines: { fromPlace: string; toPlace: string; massMg: number; kind: string }[] }>();
  expect(lines.slice(0, 3).map(({ kind, fromPlace, toPlace, massMg }) => [kind, fromPlace, toPlace, massMg])).toEqual([
    ['used', 'Class Saturday beginners', 'Product of Saturday beginners', 180_000],
    ['return', 'Class Saturday beginners', 'Container B-1', 120_000],
    ['checkout', 'Container B-1', 'Class Saturday beginners', 300_000],
  ]);
});

test('of two returns of the same checkout at once one is booked', async () => {
  const {
    containerIds: [id],
  } = await receive(studio.as.manager, ['B-2']);
  const checkOutId = await handedOut(studio.as.manager, id!, saturday.classId, '300');
  const answers = await Promise.all(['100', '200'].map((mass) => bringBack(studio.as.manager, checkOutId, mass)));
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  const { balanceMg } = await container(id!);
  expect([800_000, 900_000]).toContain(balanceMg);
});

test('nothing is handed out for a draft, for another lot than the cards, of nothing, or by an instructor', async () => {
  const {
    lotId,
    containerIds: [id],
  } = await receive(studio.as.manager, ['C-1']);
  const draft = await bareClass(studio, { status: 'draft' });
  expect(refusal(await handOut(studio.as.manager, id!, draft.classId, '10'))).toMatchObject({ code: 'class-not-open', status: 409 });
  const {
    containerIds: [otherLot],
  } = await receive(studio.as.manager, ['C-2']);
  const planned = await bareClass(studio, { naohLotId: lotId });
  expect(refusal(await handOut(studio.as.manager, otherLot!, planned.classId, '10'))).toMatchObject({
    code: 'input-refused',
    errors: [{ pointer: '/containerId' }],
  });
  expect((await handOut(studio.as.manager, id!, planned.classId, '10')).statusCode).toBe(200);
  expect(refusal(await handOut(studio.as.manager, id!, planned.classId, '0'))).toMatchObject({ code: 'input-refused', errors: [{ pointer: '/mass' }] });
  expect(refusal(await handOut(studio.as.instructor, id!, planned.classId, '10'))).toMatchObject({ code: 'not-allowed', status: 403 });
  expect((await handOut(studio.as.manager, newId(), planned.classId, '10')).statusCode).toBe(404);
});

test('a checkout sent twice with one key is booked once', async () => {
  const {
    containerIds: [id],
  } = await receive(studio.as.manager, ['D-1']);
  const body = { id: newId(), containerId: id, classId: saturday.classId, mass: '100', scaleStep: '1' };
  const key = newId();
  const answers = [await studio.as.manager.post('/api/checkouts', body, key), await studio.as.manager.post('/api/checkouts', body, key)];
  expect(answers.map((answer) => answer.json())).toEqual([{ id: body.id }, { id: body.id }]);
  expect(await container(id!)).toMatchObject({ balanceMg: 900_000 });
});

test('every movement is audited and announced without its figures in the event', async () => {
  const {
    containerIds: [id],
  } = await receive(studio.as.manager, ['E-1']);
  const checkOutId = await handedOut(studio.as.manager, id!, saturday.classId, '77');
  const audited = await studio.admin.query<{ action: string; actor: string }>(`SELECT action, actor FROM audit WHERE subject = $1`, [`checkout:${checkOutId}`]);
  expect(audited.rows).toEqual([{ action: 'handed caustic out', actor: `account:${studio.ids.manager}` }]);
  const announced = await studio.admin.query(`SELECT kind, class_id, class_station_id FROM event WHERE subject_id = $1`, [checkOutId]);
  expect(announced.rows).toEqual([{ kind: 'stock-changed', class_id: saturday.classId, class_station_id: null }]);
});
