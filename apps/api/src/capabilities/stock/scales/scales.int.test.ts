import type { CabinetScaleOut, Problem } from '@ashwater/contracts';
import { errorLimitMg } from '@ashwater/formulation';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { receive } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../../testing/test-studio.ts';
import { scalesByKey } from './service.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const add = (body: object) => studio.as.manager.post('/api/scales', { id: newId(), name: `Scale ${newId()}`, step: '1', capacity: '5 kg', ...body });
const all = async () => (await ok<{ scales: CabinetScaleOut[] }>(studio.as.owner.get('/api/scales'))).scales;
const faults = (answer: Answer) => [answer.statusCode, ...(answer.json<Problem>().errors ?? []).map(({ pointer }) => pointer)];

test('a scale stands with its plate and is told as never checked; a second of its name is refused', async () => {
  const { id } = await ok<{ id: string }>(add({ name: 'Bench scale', step: '0.1 g', capacity: '3 kg', verificationInterval: '1', accuracyClass: 'II' }));
  expect((await all()).find((one) => one.id === id)).toMatchObject({
    ...{ name: 'Bench scale', stepMg: 100, capacityMg: 3_000_000, verificationIntervalMg: 1000, accuracyClass: 'II', retiredAt: null, past: false },
    checked: expect.stringMatching(/^Never checked with a known mass/),
  });
  expect(faults(await add({ name: 'bench SCALE' }))).toEqual([409, '/name']);
});

test('a plate that cannot be is refused, each fault at its field', async () => {
  expect(faults(await add({ step: '0', capacity: '' }))).toEqual([422, '/step', '/capacity']);
  expect(faults(await add({ step: '1', capacity: '15' }))).toEqual([422, '/capacity']);
  expect(faults(await add({ step: '1', verificationInterval: '11' }))).toEqual([422, '/verificationInterval']);
});

test('a check with a known mass is judged, kept, and believed by the books from then on', async () => {
  const { id } = await ok<{ id: string }>(add({}));
  const check = (body: object) => studio.as.manager.post(`/api/scales/${id}/checks`, { id: newId(), known: '1000', knownLimit: '0', shown: '1000', ...body });
  const limit = async () => {
    const scales = await studio.app.db.transact(studio.studioId, (tx) => scalesByKey(tx, studio.studioId, new Date()));
    return errorLimitMg(scales.get(id)!, 1_000_000);
  };
  // OIML R 76-1:2006, Table 6, class III, e = 1 g: 2 e in service at 1000 e, and half a step of rounding
  expect(await limit()).toBe(2500);
  expect(await ok(check({}))).toMatchObject({ differenceMg: 0, limitMg: 2000, past: false });
  // the check vouches for half a step, and half a step of rounding
  expect(await limit()).toBe(1000);
  expect(await ok(check({ shown: '1006' }))).toMatchObject({ differenceMg: 6000, past: true });
  expect((await all()).find((one) => one.id === id)).toMatchObject({ past: true, checked: expect.stringMatching(/^Past its limit/) });
  expect(await limit()).toBe(7000);
  await ok(check({ shown: '1001' }));
  // the bad one is forgotten, for the scale was adjusted; the worst that counts is now 1 g off
  expect(await limit()).toBe(2000);
  expect((await all()).find((one) => one.id === id)).toMatchObject({
    past: false,
    checks: [{ shownMg: 1_001_000 }, { shownMg: 1_006_000 }, { shownMg: 1_000_000 }],
  });
  expect(faults(await check({ known: '6 kg', shown: '6 kg' }))).toEqual([422, '/known']);
  expect(faults(await check({ shown: '700' }))).toEqual([422, '/shown']);
  expect(faults(await check({ knownLimit: '1000' }))).toEqual([422, '/knownLimit']);
});

test('a retired scale weighs nothing any more, is kept with its figures, and is retired once', async () => {
  const { id } = await ok<{ id: string }>(add({}));
  await ok(studio.as.manager.post(`/api/scales/${id}/retire`, {}));
  expect((await studio.as.manager.post(`/api/scales/${id}/retire`, {})).statusCode).toBe(409);
  expect((await all()).at(-1)).toMatchObject({ id, retiredAt: expect.any(String) });
  expect((await studio.as.manager.post(`/api/scales/${id}/checks`, { id: newId(), known: '1000', knownLimit: '0', shown: '1000' })).statusCode).toBe(409);
});

test('nothing is read from a scale that bears less, on any form that names it', async () => {
  const { id: scaleId } = await ok<{ id: string }>(add({ name: 'Small plate', step: '0.1 g', capacity: '600 g' }));
  const { containerIds } = await receive(studio.as.manager, ['C-1']);
  const line = { containerId: containerIds[0]!, gross: '1250' };
  const answer = await studio.as.manager.post('/api/counts', { id: newId(), scaleId, lines: [line] });
  expect(faults(answer)).toEqual([422, '/lines/0/gross']);
  expect(answer.body).toContain('Small plate bears');
  const { classId } = await bareClass(studio);
  const out = { containerId: containerIds[0]!, classId, scaleId };
  expect(faults(await studio.as.manager.post('/api/checkouts', { ...out, id: newId(), mass: '700' }))).toEqual([422, '/mass']);
  await ok(studio.as.manager.post('/api/checkouts', { ...out, id: newId(), mass: '600' }));
});
