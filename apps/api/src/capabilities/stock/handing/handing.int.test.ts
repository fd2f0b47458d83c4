import type { CheckOutOut, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import type { BareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { count, receive } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../../testing/test-studio.ts';
import { makeAsked } from './service.ts';

let studio: TestStudio;
let saturday: BareClass;
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

let bottles = 0;
const bottle = async (netG = 1000): Promise<string> => (await receive(studio.as.manager, [`H-${(bottles += 1)}`], { netG })).containerIds[0]!;
const out = (body: object) => studio.as.manager.post('/api/checkouts', { id: newId(), scaleStep: '1', ...body });
const forClass = (containerId: string, more: object) => out({ containerId, classId: saturday.classId, ...more });
const back = (id: string, body: object) => studio.as.manager.post(`/api/checkouts/${id}/return`, { scaleStep: '1', ...body });
const refusal = (answer: Answer) => {
  const { code, errors } = answer.json<Problem>();
  return [answer.statusCode, code, errors?.[0]?.pointer];
};
const listed = async (id: string) => (await ok<{ checkouts: CheckOutOut[] }>(studio.as.assistant.get('/api/checkouts'))).checkouts.find((one) => one.id === id);
const linesOf = async (id: string) =>
  (
    await studio.admin.query<{ kind: string; a: string; b: string; g: number }>(
      `SELECT kind, split_part(from_place, ':', 1) AS a, split_part(to_place, ':', 1) AS b, (mass_mg / 1000.0)::float8 AS g FROM ledger_line WHERE subject_id = $1 ORDER BY seq`,
      [id],
    )
  ).rows.map(({ kind, a, b, g }) => [kind, a, b, g]);
const bookOf = async (containerId: string) =>
  (await studio.admin.query<{ g: number }>(`SELECT (balance_mg / 1000.0)::float8 AS g FROM place_balance WHERE place = $1`, [`container:${containerId}`]))
    .rows[0]?.g;

test('a hand-out names who takes it, the scale, and when it is due back; past that it is overdue until it is back', async () => {
  const containerId = await bottle();
  const scaleId = newId();
  await ok(studio.as.manager.post('/api/scales', { id: scaleId, name: 'Fine scale', step: '0.1', capacity: '5 kg' }));
  const { id } = await ok<{ id: string }>(forClass(containerId, { mass: '120', scaleId, takenBy: studio.ids.assistant, remark: 'for the demonstration' }));
  expect(await listed(id)).toMatchObject({
    ...{ purpose: 'class', whole: false, takenByName: 'Ada assistant', byName: 'Ada manager', agreedByName: null, scaleName: 'Fine scale' },
    ...{ remark: 'for the demonstration', overdue: false, returnedMg: null },
  });
  const row = await studio.admin.query<{ hours: number; step: number }>(
    `SELECT (extract(epoch FROM due_at - at) / 3600)::float8 AS hours, scale_step_mg::float8 AS step FROM checkout WHERE id = $1`,
    [id],
  );
  expect(row.rows).toEqual([{ hours: 12, step: 100 }]);
  // A checkout is never changed, so time has to pass: the same hand-out with a time that is over by then.
  const soon = await ok<{ id: string }>(forClass(containerId, { mass: '1', dueAt: new Date(Date.now() + 1500).toISOString() }));
  await new Promise((done) => setTimeout(done, 1600));
  expect(await listed(soon.id)).toMatchObject({ overdue: true });
  const { overdue } = await ok<{ overdue: number }>(studio.as.instructor.get('/api/checkouts'));
  expect(overdue).toBe(1);
  await ok(back(soon.id, { mass: '1' }));
  expect(await listed(soon.id)).toMatchObject({ overdue: false, usedMg: 0 });
  await ok(back(id, { mass: '0', scaleId }));
});

test('caustic for a test goes on an errand and is waste when it does not come back; for a test there is no class', async () => {
  const containerId = await bottle();
  const { id } = await ok<{ id: string }>(out({ containerId, purpose: 'test', mass: '20', takenBy: studio.ids.instructor }));
  expect(await listed(id)).toMatchObject({ purpose: 'test', classId: null, classTitle: 'a test' });
  await ok(back(id, { mass: '15' }));
  expect(await linesOf(id)).toEqual([
    ['checkout', 'container', 'errand', 20],
    ['return', 'errand', 'container', 15],
    ['used', 'errand', 'waste', 5],
  ]);
  expect(await bookOf(containerId)).toBe(995);
  expect(refusal(await out({ containerId, purpose: 'test', classId: saturday.classId, mass: '5' }))).toEqual([422, 'input-refused', '/classId']);
  expect(refusal(await out({ containerId, mass: '5' }))).toEqual([422, 'input-refused', '/classId']);
  expect(refusal(await out({ containerId, purpose: 'disposal', mass: '5', takenBy: studio.ids.instructor }))).toEqual([422, 'input-refused', '/takenBy']);
  expect(refusal(await out({ containerId, purpose: 'test', mass: '5', takenBy: newId() }))).toEqual([404, 'not-found', undefined]);
  expect(refusal(await forClass(containerId, { mass: '5', scaleId: newId() }))).toEqual([422, 'input-refused', '/scaleId']);
  expect(refusal(await forClass(containerId, { mass: '5', dueAt: '2020-01-01T00:00:00Z' }))).toEqual([422, 'input-refused', '/dueAt']);
});

test('a whole container takes its book along; it is in hands until it is back, and what the scale shows is used', async () => {
  const containerId = await bottle(800);
  const { id } = await ok<{ id: string }>(forClass(containerId, { whole: true, gross: '1052' }));
  expect(await bookOf(containerId)).toBe(0);
  expect(await listed(id)).toMatchObject({ whole: true, grossMg: 1_052_000, massMg: 800_000, tareMg: 250_000 });
  expect(refusal(await forClass(containerId, { mass: '10' }))[1]).toBe('container-out');
  expect(refusal(await forClass(containerId, { whole: true, gross: '1052' }))[1]).toBe('container-out');
  expect(refusal(await count(studio.as.manager, [{ containerId, gross: '1050' }]))[1]).toBe('container-out');
  const transfer = { id: newId(), toContainerId: null, newContainer: { id: newId(), label: 'H-new', gross: '60', tare: '50' }, scaleStep: '1' };
  expect(refusal(await studio.as.manager.post(`/api/containers/${containerId}/transfers`, transfer))[1]).toBe('container-out');
  expect(refusal(await back(id, { mass: '400' }))).toEqual([422, 'input-refused', '/gross']);
  expect(refusal(await back(id, { gross: '1060' }))).toEqual([409, 'returned-more', '/gross']);
  await ok(back(id, { gross: '652' }));
  expect(await linesOf(id)).toEqual([
    ['checkout', 'container', 'class', 800],
    ['return', 'class', 'container', 400],
    ['used', 'class', 'product', 400],
  ]);
  expect(await bookOf(containerId)).toBe(400);
});

test('a whole container is weighed above its tare, has something in it, and goes alone', async () => {
  const containerId = await bottle(100);
  expect(refusal(await forClass(containerId, { whole: true, gross: '250' }))).toEqual([422, 'input-refused', '/gross']);
  const portion = await ok<{ id: string }>(forClass(containerId, { mass: '40' }));
  expect(refusal(await forClass(containerId, { whole: true, gross: '310' }))[1]).toBe('container-out');
  await ok(back(portion.id, { mass: '0' }));
  const rest = await ok<{ id: string }>(forClass(containerId, { mass: '60' }));
  await ok(back(rest.id, { mass: '0' }));
  expect(refusal(await forClass(containerId, { whole: true, gross: '251' }))).toEqual([409, 'container-holds-less', '/containerId']);
});

test('slightly more than went out is weighing: nothing was used, and the remark keeps what was weighed', async () => {
  const containerId = await bottle();
  const { id } = await ok<{ id: string }>(forClass(containerId, { mass: '300' }));
  await ok(back(id, { mass: '302', remark: 'lid was wet' }));
  expect(await listed(id)).toMatchObject({ returnedMg: 300_000, usedMg: 0, returnRemark: expect.stringMatching(/^lid was wet Weighed 302\sg, 2\sg more/) });
  expect(await bookOf(containerId)).toBe(1000);
});

test('above the studio’s limit a hand-out waits for a second person; nothing leaves before', async () => {
  const containerId = await bottle(3000);
  const id = newId();
  const answer = await forClass(containerId, { id, mass: '1500', takenBy: studio.ids.instructor });
  expect([answer.statusCode, answer.json()]).toEqual([200, { id, waiting: true }]);
  expect([await listed(id), await bookOf(containerId)]).toEqual([undefined, 3000]);
  const { rows } = await studio.admin.query<{ kind: string; reason: string; content: object }>(
    'SELECT kind, reason, content FROM stock_request WHERE id = $1',
    [id],
  );
  expect(rows).toMatchObject([{ kind: 'checkout', reason: expect.stringMatching(/^Hand out 1\s500\sg from H-\d+ for Saturday beginners\.$/) }]);
  const owner = { kind: 'staff', studioId: studio.studioId, id: studio.ids.owner, name: 'O', email: '', role: 'owner', sessionId: '' } as const;
  const agree = () =>
    studio.app.db.transact(studio.studioId, (tx) =>
      makeAsked({ tx, actor: owner, studio: { id: studio.studioId } as never, now: new Date() }, { id, content: rows[0]!.content }),
    );
  await agree();
  expect(await listed(id)).toMatchObject({ byName: 'Ada manager', agreedByName: 'Ada owner', takenByName: 'Ada instructor', massMg: 1_500_000 });
  expect(await bookOf(containerId)).toBe(1500);
  const asked = newId();
  await ok(forClass(containerId, { id: asked, mass: '1200' }));
  await ok(forClass(containerId, { mass: '900' }));
  const waiting = await studio.admin.query<{ content: object }>('SELECT content FROM stock_request WHERE id = $1', [asked]);
  await expect(
    studio.app.db.transact(studio.studioId, (tx) =>
      makeAsked({ tx, actor: owner, studio: { id: studio.studioId } as never, now: new Date() }, { id: asked, content: waiting.rows[0]!.content }),
    ),
  ).rejects.toThrow(/holds 600\sg by the book/);
  expect(refusal(await forClass(containerId, { mass: '5000' }))).toEqual([409, 'container-holds-less', '/mass']);
});

test('of twenty who take the whole container or a portion of it at once, either the whole went or portions did, never both', async () => {
  for (let round = 0; round < 3; round += 1) {
    const containerId = await bottle(500);
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, index) => forClass(containerId, index % 2 === 0 ? { whole: true, gross: '750' } : { mass: '60' })),
    );
    const granted = await studio.admin.query<{ whole: boolean; n: number }>(
      'SELECT whole, count(*)::int AS n FROM checkout WHERE container_id = $1 GROUP BY whole',
      [containerId],
    );
    expect(answers.filter(({ statusCode }) => statusCode === 200)).toHaveLength(granted.rows[0]!.n);
    expect(granted.rows).toEqual([granted.rows[0]!.whole ? { whole: true, n: 1 } : { whole: false, n: 8 }]);
    expect(await bookOf(containerId)).toBe(granted.rows[0]!.whole ? 0 : 20);
    expect(answers.every(({ statusCode }) => statusCode === 200 || statusCode === 409)).toBe(true);
  }
  expect(await ok(studio.as.owner.get('/api/ledger/check'))).toMatchObject({ intact: true });
});

test('of ten returns of a whole container at once one is booked', async () => {
  const containerId = await bottle(500);
  const { id } = await ok<{ id: string }>(forClass(containerId, { whole: true, gross: '750' }));
  const answers = await Promise.all(Array.from({ length: 10 }, (_, index) => back(id, { gross: String(600 + index) })));
  expect(answers.filter(({ statusCode }) => statusCode === 200)).toHaveLength(1);
  expect(answers.filter((answer) => answer.statusCode === 409 && answer.json<Problem>().code === 'already-returned')).toHaveLength(9);
  const won = answers.findIndex(({ statusCode }) => statusCode === 200);
  expect(await bookOf(containerId)).toBe(350 + won);
});
