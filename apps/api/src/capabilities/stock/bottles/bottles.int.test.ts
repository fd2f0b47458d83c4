import type { BottleOut, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { bringBack, count, handedOut, receive } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let classId: string;
beforeAll(async () => {
  studio = await testStudio();
  ({ classId } = await bareClass(studio));
});
afterAll(() => studio.close());

const refusal = (answer: Answer): Problem => answer.json();

const bottle = (id: string) => ok<BottleOut>(studio.as.manager.get(`/api/containers/${id}`));
const act = (id: string, kind: string, remark = '') => studio.as.manager.post(`/api/containers/${id}/acts`, { id: newId(), kind, remark });
const put = (id: string, body: object) =>
  studio.as.manager.post(`/api/containers/${id}/transfers`, { id: newId(), toContainerId: null, newContainer: null, scaleStep: '1', ...body });
const gain = (id: string, body: object) =>
  studio.as.manager.post(`/api/containers/${id}/uptakes`, { id: newId(), scaleStep: '1', reason: 'lid found open', ...body });
const inAll = async () => (await studio.admin.query<{ mg: string }>('SELECT sum(balance_mg)::text AS mg FROM place_balance')).rows[0]!.mg;

test('a container comes closed, is opened, moved, closed; the history says who and when', async () => {
  const { containerIds } = await receive(studio.as.manager, ['A-1']);
  const id = containerIds[0]!;
  expect(await bottle(id)).toMatchObject({ label: 'A-1', state: 'closed', place: '', balanceMg: 1_000_000, may: ['opened', 'emptied', 'moved'], acts: [] });
  await ok(act(id, 'opened'));
  expect(refusal(await act(id, 'moved', ''))).toMatchObject({ code: 'input-refused', errors: [{ pointer: '/remark' }] });
  await ok(act(id, 'moved', 'top shelf, left'));
  expect(refusal(await act(id, 'opened'))).toMatchObject({ code: 'container-state', status: 409 });
  const now = await bottle(id);
  expect(now).toMatchObject({ state: 'opened', place: 'top shelf, left' });
  expect(now.acts.map(({ kind, byName }) => [kind, byName])).toEqual([
    ['moved', 'Ada manager'],
    ['opened', 'Ada manager'],
  ]);
  expect(now.lines.map(({ kind, massMg, balanceMg }) => [kind, massMg, balanceMg])).toEqual([['receipt', 1_000_000, 1_000_000]]);
  expect(await ok<BottleOut>(studio.as.assistant.get(`/api/containers/${id}`)), 'the ledger is for keepers').toMatchObject({ state: 'opened', lines: [] });
  expect(refusal(await studio.as.instructor.post(`/api/containers/${id}/acts`, { id: newId(), kind: 'closed', remark: '' }))).toMatchObject({ status: 403 });
});

test('emptied is not said of what the book still holds, nor of what can come back; then it is rinsed and disposed of, in this order', async () => {
  const { containerIds } = await receive(studio.as.manager, ['B-1', 'B-2']);
  const id = containerIds[0]!;
  const held = refusal(await act(id, 'emptied'));
  expect(held).toMatchObject({ code: 'container-not-empty', status: 409 });
  expect(held.detail).toMatch(/1\s000\sg is still in container B-1/);
  const out = await handedOut(studio.as.manager, id, classId, '1000');
  expect(refusal(await act(id, 'emptied'))).toMatchObject({ code: 'container-out' });
  await ok(bringBack(studio.as.manager, out, '0'));
  expect(refusal(await act(id, 'disposed'))).toMatchObject({ code: 'container-state' });
  for (const kind of ['emptied', 'rinsed', 'disposed']) await ok(act(id, kind));
  expect(await bottle(id)).toMatchObject({ state: 'disposed', may: [], cautions: [] });
  // what was wet takes nothing any more
  expect(refusal(await put(containerIds[1]!, { toContainerId: id, mass: '10' }))).toMatchObject({
    code: 'input-refused',
    errors: [{ pointer: '/toContainerId' }],
  });
});

test('what is put over leaves one container and enters the other; a new one is weighed', async () => {
  const { containerIds } = await receive(studio.as.manager, ['C-1', 'C-2']);
  const [one, two] = containerIds as [string, string];
  await ok(put(one, { toContainerId: two, mass: '250' }));
  expect([(await bottle(one)).balanceMg, (await bottle(two)).balanceMg]).toEqual([750_000, 1_250_000]);
  const fresh = newId();
  await ok(put(one, { newContainer: { id: fresh, label: 'C-3', gross: '600', tare: '100' } }));
  expect(await bottle(fresh)).toMatchObject({ label: 'C-3', balanceMg: 500_000, state: 'closed', receivedMg: 500_000 });
  expect((await bottle(one)).lines[0]).toMatchObject({
    kind: 'transfer',
    massMg: 500_000,
    fromPlace: 'Container C-1',
    toPlace: 'Container C-3',
    balanceMg: 250_000,
  });
  expect(refusal(await put(one, { newContainer: { id: newId(), label: 'C-4', gross: '100', tare: '100' } }))).toMatchObject({
    errors: [{ pointer: '/newContainer/gross' }],
  });
  expect(refusal(await put(one, { toContainerId: two, mass: '250.001' }))).toMatchObject({ code: 'container-holds-less', errors: [{ pointer: '/mass' }] });
  expect(refusal(await put(one, { newContainer: { id: newId(), label: 'C-5', gross: '900', tare: '100' } }))).toMatchObject({
    code: 'container-holds-less',
    errors: [{ pointer: '/newContainer/gross' }],
  });
  expect((await studio.admin.query(`SELECT 1 FROM container WHERE label = 'C-5'`)).rowCount, 'the refused one left no container behind').toBe(0);
  expect(await inAll()).toBe('0');
});

test('lots are not mixed, a container does not go into itself, and one in somebody’s hands stays out of it', async () => {
  const [first, other] = [await receive(studio.as.manager, ['D-1', 'D-2']), await receive(studio.as.manager, ['D-9'])];
  const [one, two] = first.containerIds as [string, string];
  for (const toContainerId of [other.containerIds[0], one, null])
    expect(refusal(await put(one, { toContainerId, mass: '10' }))).toMatchObject({ code: 'input-refused', errors: [{ pointer: '/toContainerId' }] });
  await studio.admin.query(
    `INSERT INTO checkout (studio_id, id, container_id, class_id, mass_mg, scale_step_mg, account_id, at, whole, gross_mg)
     VALUES ($1, $2, $3, $4, 1000, 1000, $5, now(), true, 1250000)`,
    [studio.studioId, newId(), one, classId, studio.ids.manager],
  );
  expect(refusal(await put(one, { toContainerId: two, mass: '10' }))).toMatchObject({ code: 'container-out' });
  expect(refusal(await put(two, { toContainerId: one, mass: '10' }))).toMatchObject({ errors: [{ pointer: '/toContainerId' }] });
  expect(refusal(await act(one, 'moved', 'elsewhere'))).toMatchObject({ code: 'container-out' });
});

test('of many who pour from one container at once none pours more than was there', async () => {
  const { containerIds } = await receive(studio.as.manager, ['E-1', 'E-2', 'E-3']);
  const [from, left, right] = containerIds as [string, string, string];
  const answers = await Promise.all(Array.from({ length: 16 }, (_, i) => put(from, { toContainerId: i % 2 ? left : right, mass: '100' })));
  expect(answers.filter(({ statusCode }) => statusCode === 200)).toHaveLength(10);
  expect(answers.filter(({ statusCode }) => statusCode !== 200).map((answer) => refusal(answer).code)).toEqual(
    Array.from({ length: 6 }, () => 'container-holds-less'),
  );
  expect((await bottle(from)).balanceMg).toBe(0);
  expect((await bottle(left)).balanceMg + (await bottle(right)).balanceMg).toBe(3_000_000);
});

test('a gain from the air is booked up to what the scale shows, with a reason, and never for a loss', async () => {
  const { containerIds } = await receive(studio.as.manager, ['F-1']);
  const id = containerIds[0]!;
  await ok(act(id, 'opened'));
  await ok(count(studio.as.manager, [{ containerId: id, gross: '1262' }]));
  expect((await bottle(id)).lastCount).toMatchObject({ grossMg: 1_262_000, netMg: 1_012_000, bookMg: 1_000_000 });
  expect(refusal(await gain(id, { gross: '1262', reason: ' ' }))).toMatchObject({ code: 'input-refused', errors: [{ pointer: '/reason' }] });
  expect(refusal(await gain(id, { gross: '1250' }))).toMatchObject({ errors: [{ pointer: '/gross' }] });
  expect(refusal(await gain(id, { gross: '2251' }))).toMatchObject({
    errors: [{ pointer: '/gross', detail: expect.stringContaining('more than the air brings') }],
  });
  expect(refusal(await gain(id, { gross: '1262', mass: '12.001' }))).toMatchObject({ errors: [{ pointer: '/mass' }] });
  await ok(gain(id, { gross: '1262', mass: '5' }));
  await ok(gain(id, { gross: '1262' }));
  const now = await bottle(id);
  expect(now.balanceMg).toBe(1_012_000);
  expect(now.lines.slice(0, 2)).toMatchObject([
    { kind: 'uptake', massMg: 7_000, fromPlace: 'Air', reason: 'lid found open' },
    { kind: 'uptake', massMg: 5_000 },
  ]);
  expect(await inAll()).toBe('0');
});

test('an act sent again with its key is recorded once', async () => {
  const { containerIds } = await receive(studio.as.manager, ['G-1', 'G-2']);
  const [key, body] = [newId(), { id: newId(), toContainerId: containerIds[1], newContainer: null, mass: '10', scaleStep: '1' }];
  for (let n = 0; n < 3; n += 1) await ok(studio.as.manager.post(`/api/containers/${containerIds[0]}/transfers`, body, key));
  expect((await bottle(containerIds[0]!)).balanceMg).toBe(990_000);
});
