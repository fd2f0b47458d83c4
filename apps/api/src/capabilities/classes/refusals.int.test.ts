import type { CardOut, ClassOut } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classBody, classroom, ok, publishedRecipe, takeSeat } from '../../testing/classroom.ts';
import type { StationBody } from '../../testing/classroom.ts';
import { expectRefused, rowCounts } from '../../testing/refusals.ts';
import { receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let versionId: string;
let lotId: string;
beforeAll(async () => {
  studio = await testStudio();
  ({ versionId } = await publishedRecipe(studio));
  ({ lotId } = await receive(studio.as.manager, ['Bottle 1']));
});
afterAll(() => studio.close());
const input = { status: 422, code: 'input-refused' };
const classOf = (id: string) => ok<ClassOut>(studio.as.instructor.get(`/api/classes/${id}`));

test('one unsafe station refuses the whole class, by name: no card, no number used, still a draft', async () => {
  // At a step of 20 g the alkali of a 1.1 l mould cannot be weighed closely enough.
  const body = await classBody(studio, versionId, { stations: 3, lotId, setUp: (n) => (n === 2 ? { scaleStep: '20 g' } : {}) });
  await ok(studio.as.instructor.post('/api/classes', body));
  const draft = await classOf(body.id);
  expect(draft.readiness.map((station) => station.safe)).toEqual([true, false, true]);
  const named = draft.stations[1]!.name;
  const problem = await expectRefused(studio.admin, () => studio.as.instructor.post(`/api/classes/${body.id}/publish`, {}), {
    status: 422,
    code: 'card-not-safe',
    pointer: '/stations/1',
  });
  expect(problem.detail).toContain(named);
  expect(problem.errors!.every((fault) => fault.pointer === '/stations/1' && fault.detail.startsWith(named))).toBe(true);
  expect(await classOf(body.id)).toEqual(draft);
  expect((await studio.admin.query(`SELECT 1 FROM weigh_card WHERE class_id = $1`, [body.id])).rowCount).toBe(0);
  expect((await studio.admin.query(`SELECT 1 FROM studio_counter WHERE name = 'card'`)).rowCount).toBe(0);
});

test('a draft can be put right and then published, once; after that it is frozen', async () => {
  const body = await classBody(studio, versionId, { stations: 2, lotId, setUp: (n) => (n === 2 ? { scaleStep: '20 g' } : {}) });
  await ok(studio.as.instructor.post('/api/classes', body));
  const [first, second] = body.stations as [StationBody, StationBody];
  await ok(studio.as.instructor.put(`/api/classes/${body.id}`, { ...body, title: 'Put right', stations: [first] }));
  expect((await classOf(body.id)).stations.map((station) => station.id)).toEqual([first.id]);
  const right = { ...body, stations: [first, { ...second, scaleStep: '1 g' }] };
  await ok(studio.as.instructor.put(`/api/classes/${body.id}`, right));
  const both = await Promise.all([0, 1].map(() => studio.as.instructor.post(`/api/classes/${body.id}/publish`, {})));
  expect(both.map((answer) => answer.statusCode).sort()).toEqual([200, 409]);
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.assistant.get(`/api/classes/${body.id}/cards`));
  expect(cards.map((card) => card.issue)).toEqual([1, 1]);
  for (const send of [
    () => studio.as.instructor.put(`/api/classes/${body.id}`, { ...right, title: 'Too late' }),
    () => studio.as.instructor.post(`/api/classes/${body.id}/publish`, {}),
  ])
    await expectRefused(studio.admin, send, { status: 409, code: 'class-not-draft' });
  expect((await ok<{ cards: CardOut[] }>(studio.as.assistant.get(`/api/classes/${body.id}/cards`))).cards).toEqual(cards);
});

test('a change and a publishing at once: the cards are those of the class as it then stands', async () => {
  for (let round = 0; round < 4; round += 1) {
    const body = await classBody(studio, versionId, { stations: 1, lotId });
    await ok(studio.as.instructor.post('/api/classes', body));
    const changed = { ...body, title: 'Changed at the same moment', stations: [{ ...body.stations[0]!, mouldVolumeMl: '2200' }] };
    await Promise.all([studio.as.instructor.put(`/api/classes/${body.id}`, changed), studio.as.owner.post(`/api/classes/${body.id}/publish`, {})]);
    const made = await classOf(body.id);
    const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.get(`/api/classes/${body.id}/cards`));
    expect(made.status).toBe('published');
    expect({ title: cards[0]!.content.classTitle, volume: cards[0]!.content.mouldVolumeMl }).toEqual({
      title: made.title,
      volume: made.stations[0]!.mouldVolumeMl,
    });
  }
});

test('a class as typed wrong is refused at the field of the station', async () => {
  const body = await classBody(studio, versionId, { stations: 2 });
  const [first, second] = body.stations as [StationBody, StationBody];
  const post = (change: object) => () => studio.as.instructor.post('/api/classes', { ...body, ...change });
  const BAD: [object, string, RegExp][] = [
    [{ stations: [first, { ...second, scaleStep: '' }] }, '/stations/1/scaleStep', /blank/],
    [{ stations: [first, { ...second, scaleStep: '0' }] }, '/stations/1/scaleStep', /more than 0/],
    [{ stations: [first, { ...second, scaleStep: '1,234' }] }, '/stations/1/scaleStep', /1\.234/],
    [{ stations: [{ ...first, scaleCapacity: '1 g' }, second] }, '/stations/0/scaleCapacity', /more than its step/],
    [{ stations: [{ ...first, mouldVolumeMl: '-4' }, second] }, '/stations/0/mouldVolumeMl', /negative/],
    [{ stations: [{ ...first, mouldVolumeMl: '0' }, second] }, '/stations/0/mouldVolumeMl', /from 1/],
    [{ stations: [first, { ...second, stationId: first.stationId }] }, '/stations/1/stationId', /already/],
    [{ stations: [first, { ...second, stationId: newId() }] }, '/stations/1/stationId', /not found/],
    [{ stations: [] }, '/stations', /at least one/],
    [{ title: ' ' }, '/title', /name/i],
    [{ startsAt: 'tomorrow' }, '/startsAt', /\w+/],
    [{ naohLotId: newId() }, '/naohLotId', /cabinet/],
    [{ kohLotId: lotId }, '/kohLotId', /substance/],
  ];
  for (const [change, pointer, says] of BAD) await expectRefused(studio.admin, post(change), { ...input, pointer, says });
  await expectRefused(studio.admin, post({ recipeVersionId: newId() }), { status: 404, code: 'not-found' });
});

test('an unknown code leads nowhere, a class code to no seat, a draft or closed class to nobody’s', async () => {
  const { joinCode, classId, benches } = await classroom(studio, { stations: 1 });
  const join = (code: string) => () => studio.as.nobody.post('/api/join', { id: newId(), code, name: 'Sam' });
  for (const code of ['ZZZZZZ', '', joinCode, "' OR 1=1"])
    await expectRefused(studio.admin, join(code), { status: 404, code: 'code-unknown', pointer: '/code' });
  await expectRefused(studio.admin, () => studio.as.nobody.get('/api/join/ZZZZZZ'), { status: 404, code: 'code-unknown' });
  await expectRefused(studio.admin, () => studio.as.nobody.post('/api/join', { id: newId(), code: benches[0]!.code, name: ' ' }), {
    ...input,
    pointer: '/name',
  });
  const typed = `${benches[0]!.code.slice(0, 3)}-${benches[0]!.code.slice(3)} `.toLowerCase();
  expect(await ok<{ stations: unknown[] }>(studio.as.nobody.get(`/api/join/${encodeURIComponent(typed)}`))).toMatchObject({
    stations: [{ code: benches[0]!.code }],
  });
  await takeSeat(studio, benches[0]!);
  await ok(studio.as.instructor.post(`/api/classes/${classId}/close`, {}));
  await expectRefused(studio.admin, join(benches[0]!.code), { status: 409, code: 'class-not-open' });
  const draft = await classBody(studio, versionId);
  await ok(studio.as.instructor.post('/api/classes', draft));
  const before = await rowCounts(studio.admin);
  await expectRefused(studio.admin, join((await classOf(draft.id)).stations[0]!.joinCode), { status: 409, code: 'class-not-open' });
  expect(await rowCounts(studio.admin)).toEqual(before);
});
