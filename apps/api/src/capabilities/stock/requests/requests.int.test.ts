import type { CountOut, Ledger, Problem, StockRequests } from '@ashwater/contracts';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { bringBack, count, handedOut, receive } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let classId: string;
let lotId: string;
let ids: string[];
beforeAll(async () => {
  studio = await testStudio();
  classId = (await bareClass(studio)).classId;
  ({ lotId, containerIds: ids } = await receive(studio.as.manager, ['Q-1', 'Q-2']));
  await ok(bringBack(studio.as.manager, await handedOut(studio.as.manager, ids[0]!, classId, '300'), '120'));
});
afterAll(() => studio.close());

const ask = (kind: string, body: object, id = newId()) => studio.as.manager.post(`/api/stock-requests/${kind}`, { id, reason: 'a wrong figure', ...body });
const decide = (id: string, outcome = 'approved', by: 'owner' | 'manager' = 'owner') =>
  studio.as[by].post(`/api/stock-requests/${id}/decide`, { outcome, remark: '' });
const asked = async (kind: string, body: object): Promise<string> => (await ok<{ id: string }>(ask(kind, body))).id;
const lines = async () => (await ok<z.infer<typeof Ledger>>(studio.as.manager.get('/api/ledger'))).lines;
const held = async (place: string) =>
  Number(
    (
      await studio.admin.query<{ mg: string }>('SELECT coalesce(sum(balance_mg), 0) AS mg FROM place_balance WHERE studio_id = $1 AND place = $2', [
        studio.studioId,
        place,
      ])
    ).rows[0]!.mg,
  );
const faults = async () => {
  await studio.admin.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studio.studioId]);
  return (await studio.admin.query('SELECT * FROM ledger_faults()')).rows;
};

test('nothing happens by asking; another keeper’s approval does it, and who asked cannot approve', async () => {
  const before = (await lines()).length;
  const body = { lotId, from: { sort: 'product', id: classId }, to: { sort: 'container', id: ids[0] }, mass: '30', aboutSeq: 4 };
  const id = await asked('correction', body);
  expect(await lines()).toHaveLength(before);
  const list = await ok<StockRequests>(studio.as.manager.get('/api/stock-requests'));
  expect(list.requests[0]).toMatchObject({ id, kind: 'correction', mine: true, massMg: 30_000, decision: null });
  expect(list.requests[0]!.words.replaceAll('\u00a0', ' ')).toBe('Move 30 g from Product of Saturday beginners to Container Q-1, about line 4.');
  expect(list.deciders).toEqual(['Ada owner']);
  const own = await decide(id, 'approved', 'manager');
  expect([own.statusCode, own.json<Problem>().code]).toEqual([403, 'own-request']);
  await ok(decide(id));
  const [line] = await lines();
  expect(line).toMatchObject({ kind: 'correction', massMg: 30_000, byName: 'Ada owner', reason: 'a wrong figure (about line 4)' });
  expect([await held(`container:${ids[0]}`), await held(`product:${classId}`)]).toEqual([850_000, 150_000]);
  expect((await decide(id, 'refused')).json<Problem>().code).toBe('already-decided');
});

test('a refused request moves nothing and stays to be read', async () => {
  const id = await asked('disposal', { containerId: ids[0], mass: '100' });
  await ok(decide(id, 'refused'));
  expect(await held('waste')).toBe(0);
  const { requests } = await ok<StockRequests>(studio.as.owner.get('/api/stock-requests'));
  expect(requests.find((each) => each.id === id)?.decision).toMatchObject({ outcome: 'refused', byName: 'Ada owner' });
});

test('a disposal, its reversal, and no second reversal of the same line', async () => {
  await ok(decide(await asked('disposal', { containerId: ids[0], mass: '100' })));
  expect(await held('waste')).toBe(100_000);
  const { seq } = (await lines())[0]!;
  const [first, second] = [await asked('reversal', { seq }), await asked('reversal', { seq })];
  const both = await Promise.all([decide(first), decide(second)]);
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  expect([await held('waste'), (await lines())[0]]).toEqual([0, expect.objectContaining({ kind: 'reversal', reversesSeq: seq })]);
  expect((await ask('reversal', { seq })).json<Problem>().code).toBe('already-reversed');
});

test('what a count found missing leaves the book and stays visible as unaccounted for; what it found too much comes back from there', async () => {
  await ok(decide(await asked('write-off', { containerId: ids[0], direction: 'missing', mass: '5' })));
  await ok(decide(await asked('write-off', { containerId: ids[1], direction: 'found', mass: '8' })));
  expect([await held('unaccounted'), await held(`container:${ids[0]}`), await held(`container:${ids[1]}`)]).toEqual([-3000, 845_000, 1_008_000]);
});

test('a write-off that names its count goes no further than what the count found, also in parts and at the same moment', async () => {
  const { containerIds } = await receive(studio.as.manager, ['Q-7', 'Q-8']);
  const [short, over] = containerIds as [string, string];
  const counted = await ok<CountOut>(
    count(studio.as.manager, [
      { containerId: short, gross: '1150' },
      { containerId: over, gross: '1260' },
    ]),
  );
  const left = async () => {
    const { counts } = await ok<{ counts: CountOut[] }>(studio.as.owner.get('/api/counts'));
    return counts.find(({ id }) => id === counted.id)!.lines.map(({ toExplainMg }) => toExplainMg);
  };
  expect(await left()).toEqual([100_000, -10_000]);
  const off = (containerId: string, direction: string, mass: string) => ask('write-off', { containerId, direction, mass, countId: counted.id });
  const pointer = async (answer: ReturnType<typeof off>) => (await answer).json<Problem>().errors?.[0]?.pointer;
  expect(await pointer(off(short, 'missing', '100.001'))).toBe('/mass');
  expect(await pointer(off(short, 'found', '1'))).toBe('/direction');
  expect(await pointer(off(ids[0]!, 'missing', '1'))).toBe('/containerId');
  await ok(off(over, 'found', '10'));
  const both = await Promise.all([off(short, 'missing', '60'), off(short, 'missing', '60')]);
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 422]);
  expect(await left()).toEqual([40_000, 0]);
  const { requests } = await ok<StockRequests>(studio.as.owner.get('/api/stock-requests'));
  await ok(decide(requests.find(({ massMg }) => massMg === 60_000)!.id, 'refused'));
  expect(await left(), 'what was refused can be asked for again').toEqual([100_000, 0]);
});

test('two counts that find the same loss do not have it written off twice; a loss after the first count is only the second one’s', async () => {
  const { containerIds } = await receive(studio.as.manager, ['Q-10']);
  const containerId = containerIds[0]!;
  const counted = async (gross: string) => (await ok<CountOut>(count(studio.as.manager, [{ containerId, gross }]))).id;
  const off = (countId: string, mass: string, direction = 'missing') => ask('write-off', { containerId, direction, mass, countId });
  const left = async (...counts: string[]) => {
    const all = (await ok<{ counts: CountOut[] }>(studio.as.owner.get('/api/counts'))).counts;
    return counts.map((id) => all.find((each) => each.id === id)!.lines[0]!.toExplainMg);
  };
  const [first, second] = [await counted('1150'), await counted('1150')];
  expect(await left(first, second)).toEqual([100_000, 100_000]);
  const early = await ok<{ id: string }>(off(first, '60'));
  expect(await left(first, second)).toEqual([40_000, 40_000]);
  expect((await off(second, '60')).statusCode).toBe(422);
  await ok(decide(early.id, 'refused'));
  expect(await left(first, second)).toEqual([100_000, 100_000]);
  await ok(decide((await ok<{ id: string }>(off(second, '100'))).id));
  expect(await left(first, second), 'also once it is in the book').toEqual([0, 0]);
  const third = await counted('1130');
  expect(await left(first, second, third), 'what is in the book already explains nothing more').toEqual([0, 0, 20_000]);
  const open = await ok<{ id: string }>(off(third, '20'));
  expect(await left(first, second, third), 'and nothing turns round').toEqual([0, 0, 0]);
  const fourth = await counted('1140');
  expect(await left(fourth), 'asked for before and not decided: less is missing than was asked for').toEqual([0]);
  await ok(decide(open.id, 'refused'));
  expect(await left(first, second, third, fourth)).toEqual([0, 0, 20_000, 10_000]);
});

test('the books are judged again when it is approved', async () => {
  const id = await asked('disposal', { containerId: ids[1], mass: '1000' });
  await handedOut(studio.as.manager, ids[1]!, classId, '100');
  expect((await decide(id)).json<Problem>().code).toBe('container-holds-less');
  const { requests } = await ok<StockRequests>(studio.as.owner.get('/api/stock-requests'));
  expect(requests.find((each) => each.id === id)?.decision, 'still open: it can be refused, or approved when there is enough').toBeNull();
});

test('a correction never takes what a class has in hands, when asked or when approved, and the class can give it back', async () => {
  const correction = { lotId, from: { sort: 'class', id: classId }, to: { sort: 'waste', id: null }, mass: '50' };
  const early = await ask('correction', correction);
  expect([early.statusCode, early.json<Problem>().code]).toEqual([409, 'container-holds-less']);
  expect(early.json<Problem>().detail).toContain('handed out and not taken back');
  const fill = await asked('correction', { ...correction, from: { sort: 'product', id: classId }, to: { sort: 'class', id: classId } });
  await ok(decide(fill));
  const first = await asked('correction', correction);
  const second = await asked('correction', correction);
  await ok(decide(first));
  expect((await decide(second)).json<Problem>().code).toBe('container-holds-less');
  const { rows } = await studio.admin.query<{ id: string }>(
    'SELECT id FROM checkout k WHERE NOT EXISTS (SELECT FROM checkout_return r WHERE r.checkout_id = k.id)',
  );
  expect(rows).toHaveLength(1);
  await ok(bringBack(studio.as.manager, rows[0]!.id, '100'));
  expect(await held(`class:${classId}`)).toBe(0);
});

test('nothing is booked into a container that was rinsed', async () => {
  const { containerIds } = await receive(studio.as.manager, ['Q-9']);
  const all = { containerId: containerIds[0]!, mass: '1000' };
  await ok(decide(await asked('disposal', all)));
  for (const kind of ['emptied', 'rinsed']) await ok(studio.as.manager.post(`/api/containers/${containerIds[0]!}/acts`, { id: newId(), kind, remark: '' }));
  const answer = await ask('write-off', { ...all, direction: 'found', mass: '5' });
  expect([answer.statusCode, answer.json<Problem>().code]).toEqual([409, 'container-state']);
});

test.each([
  ['reversal', { seq: 9999 }, '/seq'],
  ['reversal', { seq: 3 }, '/seq'],
  ['correction', { lotId: 'LOT', from: { sort: 'container', id: 'A' }, to: { sort: 'container', id: 'A' }, mass: '1' }, '/to/id'],
  ['correction', { lotId: 'LOT', from: { sort: 'container', id: 'NOWHERE' }, to: { sort: 'waste', id: null }, mass: '1' }, '/from/id'],
  ['correction', { lotId: 'LOT', from: { sort: 'container', id: 'A' }, to: { sort: 'waste', id: null }, mass: '1,234' }, '/mass'],
  ['correction', { lotId: 'LOT', from: { sort: 'container', id: 'A' }, to: { sort: 'waste', id: null }, mass: '0' }, '/mass'],
  ['correction', { lotId: 'LOT', from: { sort: 'container', id: 'A' }, to: { sort: 'waste', id: null }, mass: '1', aboutSeq: 9999 }, '/aboutSeq'],
  ['disposal', { containerId: 'A', mass: '99999' }, '/mass'],
  ['disposal', { containerId: 'A', mass: '' }, '/mass'],
  ['write-off', { containerId: 'A', direction: 'missing', mass: '1e9' }, '/mass'],
  ['disposal', { containerId: 'A', mass: '1', reason: '' }, '/reason'],
])('a %s of %j is refused at %s', async (kind, body, pointer) => {
  const filled = JSON.parse(
    JSON.stringify(body).replaceAll('"LOT"', `"${lotId}"`).replaceAll('"A"', `"${ids[0]}"`).replaceAll('"NOWHERE"', `"${newId()}"`),
  ) as object;
  const before = (await lines()).length;
  const answer = await ask(kind, filled);
  expect([409, 422]).toContain(answer.statusCode);
  expect(answer.json<Problem>().errors?.[0]?.pointer).toBe(pointer);
  expect(await lines()).toHaveLength(before);
});

test('two people: many deciders at once, the asker among them, and each request is done at most once and never by its asker', { timeout: 60_000 }, async () => {
  const ROUNDS = 60;
  for (let i = 0; i < ROUNDS; i += 1) {
    const id = await asked('disposal', { containerId: ids[0], mass: '0.001' });
    const answers = await Promise.all([decide(id), decide(id, 'refused'), decide(id, 'approved', 'manager'), decide(id)]);
    expect(answers.filter(({ statusCode }) => statusCode === 200)).toHaveLength(1);
    expect(answers[2].statusCode).toBe(403);
  }
  const { rows } = await studio.admin.query<{ approved: string; posted: string; own: string }>(
    `SELECT (SELECT count(*) FROM stock_decision WHERE outcome = 'approved') AS approved,
       (SELECT count(*) FROM ledger_line WHERE request_id IS NOT NULL) AS posted,
       (SELECT count(*) FROM stock_decision d JOIN stock_request r ON r.id = d.request_id WHERE r.requested_by = d.decided_by) AS own`,
  );
  expect([rows[0]!.posted, rows[0]!.own]).toEqual([rows[0]!.approved, '0']);
  expect(await faults()).toEqual([]);
});
