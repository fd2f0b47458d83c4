import type { CardOut, ClassOut } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classBody, ok, publishedRecipe } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import type { HandClock } from '../../testing/clock.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock: HandClock = handClock();
let studio: TestStudio;
let versionId: string;
let lotId: string;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  ({ versionId } = await publishedRecipe(studio));
  ({ lotId } = await receive(studio.as.manager, ['Bottle one']));
});
afterAll(() => studio.close());

const input = { status: 422, code: 'input-refused' };
const bench = (change: object = {}) => ({
  name: `Bench ${newId().slice(-6)}`,
  scaleStep: '1',
  scaleCapacity: '5 kg',
  mouldName: 'Loaf',
  mouldVolumeMl: '1100',
  ...change,
});
async function station(change: object = {}): Promise<string> {
  const id = newId();
  await ok(studio.as.manager.post('/api/stations', { id, ...bench(change) }));
  return id;
}
/** A draft class at these stations; `setUp` is typed anew for the class. */
async function classAt(stations: { stationId: string; setUp?: object }[]): Promise<ClassOut> {
  const body = await classBody(studio, versionId, { stations: 1, lotId });
  const { name: _name, ...plain } = bench();
  body.stations = stations.map(({ stationId, setUp }) => ({ id: newId(), stationId, ...plain, ...setUp }));
  await ok(studio.as.instructor.post('/api/classes', body));
  return ok<ClassOut>(studio.as.instructor.get(`/api/classes/${body.id}`));
}
const check = (id: string, change: object = {}) =>
  studio.as.manager.post(`/api/stations/${id}/check-weighings`, { id: newId(), scale: 'main', known: '1000', knownLimit: '0', shown: '1000', ...change });
const refused = (id: string) => () => studio.as.instructor.post(`/api/classes/${id}/publish`, {});

test('what stands on the plate, the scale for lye and the container are kept, and can be changed afterwards', async () => {
  const more = { verificationInterval: '1', accuracyClass: 'III', lyeScaleStep: '0.1', lyeScaleCapacity: '600', potMaterial: 'pp', potVolumeMl: '2000' };
  const id = await station(more);
  const kept = { verificationIntervalMg: 1000, accuracyClass: 'III', lyeScaleStepMg: 100, lyeScaleCapacityMg: 600_000, potMaterial: 'pp', potVolumeMl: 2000 };
  expect(await ok(studio.as.assistant.get(`/api/stations/${id}`))).toMatchObject({ ...kept, checks: [] });
  await ok(studio.as.instructor.put(`/api/stations/${id}`, bench({ accuracyClass: '', scaleStep: '0.5', potVolumeMl: '' })));
  expect(await ok(studio.as.assistant.get(`/api/stations/${id}`))).toMatchObject({
    scaleStepMg: 500,
    verificationIntervalMg: null,
    accuracyClass: null,
    lyeScaleStepMg: null,
    potMaterial: null,
    potVolumeMl: null,
  });
  const lines = await ok<{ lines: { action: string; subject: string }[] }>(studio.as.owner.get('/api/audit'));
  expect(lines.lines).toContainEqual(expect.objectContaining({ action: 'changed a station', subject: `station:${id}` }));
  await expectRefused(studio.admin, () => studio.as.owner.put(`/api/stations/${newId()}`, bench()), { status: 404, code: 'not-found' });
});

test('a plate that cannot be, half a lye scale and a material nobody knows are refused at their field', async () => {
  const BAD: [object, string, RegExp][] = [
    [{ verificationInterval: '0.5' }, '/verificationInterval', /never finer/],
    [{ verificationInterval: '20' }, '/verificationInterval', /ten times/],
    [{ verificationInterval: '1,234' }, '/verificationInterval', /1\.234/],
    [{ lyeScaleStep: '0.1' }, '/lyeScaleCapacity', /both, or neither/],
    [{ lyeScaleCapacity: '600' }, '/lyeScaleStep', /both, or neither/],
    [{ lyeScaleStep: '600', lyeScaleCapacity: '0.1' }, '/lyeScaleCapacity', /more than its step/],
    [{ potMaterial: 'porcelain' }, '/potMaterial', /list/],
    [{ potVolumeMl: '0' }, '/potVolumeMl', /from 1/],
  ];
  for (const [change, pointer, says] of BAD)
    await expectRefused(studio.admin, () => studio.as.owner.post('/api/stations', { id: newId(), ...bench(change) }), { ...input, pointer, says });
  await expectRefused(studio.admin, () => studio.as.owner.post('/api/stations', { id: newId(), ...bench({ accuracyClass: 'V' }) }), {
    ...input,
    pointer: '/accuracyClass',
  });
});

test('lye is weighed to the step of its own scale, and the card says that step', async () => {
  const room = await classAt([{ stationId: await station(), setUp: { lyeScaleStep: '0.1', lyeScaleCapacity: '600' } }]);
  expect(room.readiness[0]!.notes.join(' ')).toMatch(/scale for lye, step 0.1/);
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${room.id}/publish`, {}));
  const of = (kind: string) => cards[0]!.content.lines.find((line) => line.kind === kind)!;
  expect([of('naoh').stepMg, of('fat').stepMg]).toEqual([100, 1000]);
  expect(of('naoh').targetMg % 100).toBe(0);
});

test('a check is judged against its class, counted by the plan for ninety days, and missed when it is old', async () => {
  const id = await station();
  const band = async () => {
    const room = await classAt([{ stationId: id }]);
    return { notes: room.readiness[0]!.notes.join(' '), words: room.readiness[0]!.words };
  };
  const daysAgo = (days: number) =>
    studio.admin.query(`INSERT INTO check_weighing VALUES ($1, $2, $3, 'main', 1000000, 0, 1000000, $4, $5)`, [
      studio.studioId,
      newId(),
      id,
      new Date(clock.now.getTime() - days * 86_400_000),
      studio.ids.manager,
    ]);
  expect((await band()).notes).toMatch(/never checked/);
  await daysAgo(91);
  const assumed = await band();
  expect(assumed.notes).toMatch(/more than 90 days old/);
  await daysAgo(89);
  const believed = await band();
  expect(believed.notes).not.toMatch(/checked|old/);
  // Right on at 1000 g vouches for half a step each way; its class would allow 2 g. The band of the plan narrows.
  const width = (words: string): number => {
    const [, low, high] = /between ([\d.-]+) and ([\d.-]+) %/.exec(words) ?? [];
    return Number(high) - Number(low);
  };
  expect(width(believed.words)).toBeLessThan(width(assumed.words));
  // OIML R 76-1, Table 6 and 3.5.2: class III, 1000 e, so 1 e at verification and 2 e in service; e is the step of 1 g.
  expect(await ok(check(id, { shown: '1002' }))).toMatchObject({ differenceMg: 2000, limitMg: 2000, past: false });
  expect(await ok(check(id, { shown: '1000', known: '999.9', knownLimit: '0.1' }))).toMatchObject({ differenceMg: 100, limitMg: 2100 });
});

test('a scale past its limit stops publishing until a later check with as heavy a mass is good', async () => {
  const id = await station();
  expect(await ok(check(id, { shown: '1003' }))).toMatchObject({ past: true, words: expect.stringMatching(/do not use it until it is adjusted/) });
  const room = await classAt([{ stationId: id }]);
  expect(room.readiness[0]).toMatchObject({ safe: false });
  await expectRefused(studio.admin, refused(room.id), { status: 422, code: 'card-not-safe', says: /Past its limit/ });
  clock.forward(1);
  await ok(check(id, { known: '100', shown: '100' }));
  await expectRefused(studio.admin, refused(room.id), { status: 422, code: 'card-not-safe', says: /Past its limit/ });
  clock.forward(1);
  await ok(check(id));
  await ok(refused(room.id)());
});

test('a check that cannot be is refused at its field', async () => {
  const id = await station();
  const BAD: [object, string, RegExp][] = [
    [{ scale: 'lye' }, '/scale', /no scale of its own/],
    [{ known: '' }, '/known', /blank/],
    [{ known: '0' }, '/known', /more than 0/],
    [{ known: '6 kg' }, '/known', /more than the scale/],
    [{ knownLimit: '' }, '/knownLimit', /blank/],
    [{ knownLimit: '1 kg' }, '/knownLimit', /far less/],
    [{ shown: '100' }, '/shown', /far from/],
  ];
  for (const [change, pointer, says] of BAD) await expectRefused(studio.admin, () => check(id, change), { ...input, pointer, says });
});

test('a container that lye attacks, melts or overflows stops the card; one that is only full is said', async () => {
  const id = await station();
  const at = (setUp: object) => classAt([{ stationId: id, setUp }]);
  for (const [setUp, says] of [
    [{ potMaterial: 'aluminium' }, /hydrogen/],
    [{ potMaterial: 'glass' }, /etched/],
    [{ potVolumeMl: '200' }, /too small/],
  ] as const) {
    const room = await at(setUp);
    expect(room.readiness[0]!.safe).toBe(false);
    await expectRefused(studio.admin, refused(room.id), { status: 422, code: 'card-not-safe', says });
  }
  const full = await at({ potMaterial: 'pp', potVolumeMl: '350' });
  expect(full.readiness[0]).toMatchObject({ safe: true });
  expect(full.readiness[0]!.notes.join(' ')).toMatch(/take one of at least/);
});

test('the whole class adds up to the milligram, and the spare is rounded up to whole steps', async () => {
  const [fine, coarse] = [await station(), await station()];
  const room = await classAt([{ stationId: fine, setUp: { scaleStep: '0.1', scaleCapacity: '3000' } }, { stationId: coarse }]);
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${room.id}/publish`, {}));
  const after = await ok<ClassOut>(studio.as.assistant.get(`/api/classes/${room.id}?spare=12.5`));
  expect(after.totals.map((total) => total.key)).toEqual(cards[0]!.content.lines.map((line) => line.key));
  for (const total of after.totals) {
    const sumMg = cards.reduce((sum, card) => sum + card.content.lines.find((line) => line.key === total.key)!.targetMg, 0);
    expect(total).toMatchObject({ sumMg, stations: 2, stepMg: 1000 });
    expect(total.totalMg % 1000).toBe(0);
    expect(total.totalMg).toBeGreaterThanOrEqual((sumMg * 1125) / 1000);
    expect(total.totalMg - 1000).toBeLessThan((sumMg * 1125) / 1000);
  }
  for (const spare of ['-1', '101', 'x'])
    await expectRefused(studio.admin, () => studio.as.assistant.get(`/api/classes/${room.id}?spare=${spare}`), { status: 400, code: 'request-malformed' });
});
