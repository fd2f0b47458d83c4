import type { CardOut, ClassOut } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { goodEntry, read, stepsOf, viewOf } from '../../testing/card-steps.ts';
import { classBody, classroom, ok, publishedRecipe, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { soundDraft } from '../../testing/drafts.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { handedOut } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());
beforeEach(async () => {
  room = await classroom(studio, { stations: 2 });
});
const classOf = (id = room.classId) => ok<ClassOut>(studio.as.assistant.get(`/api/classes/${id}`));
const act = (what: string, sent: object, id = room.classId) => studio.as.instructor.post(`/api/classes/${id}/${what}`, { id: newId(), ...sent });
const notOpen = { status: 409, code: 'class-not-open' };
const auditOf = async (action: string, id: string) =>
  (await studio.admin.query('SELECT detail FROM audit WHERE action = $1 AND subject = $2', [action, `class:${id}`])).rows;

describe('cancelled', () => {
  test('takes no act and no seat any more, and says why; a second time is refused', async () => {
    const seat = await takeSeat(studio, room.benches[0]!);
    await ok(act('cancel', { reason: 'The teacher is ill' }));
    expect(await classOf()).toMatchObject({ status: 'cancelled', cancelledReason: 'The teacher is ill' });
    const step = stepsOf(seat)[0]!;
    await expectRefused(studio.admin, () => seat.by.post(`/api/cards/${seat.bench.card.id}/steps/${step.no}/done`, {}), notOpen);
    await expectRefused(studio.admin, () => read(seat, stepsOf(seat)[1]!, goodEntry(stepsOf(seat)[1]!)), notOpen);
    await expectRefused(studio.admin, () => studio.as.nobody.post('/api/join', { id: newId(), code: room.benches[1]!.code, name: 'Late' }), notOpen);
    await expectRefused(studio.admin, () => act('cancel', { reason: 'again' }), notOpen);
    await expectRefused(studio.admin, () => act('move', { startsAt: '2026-04-01T10:00:00Z', room: '' }), notOpen);
    expect(await auditOf('cancelled a class', room.classId)).toEqual([{ detail: { reason: 'The teacher is ill' } }]);
  });

  test('a draft can be cancelled, then no longer published; no reason, no cancelling', async () => {
    const draft = await classBody(studio, room.versionId);
    await ok(studio.as.instructor.post('/api/classes', draft));
    await expectRefused(studio.admin, () => act('cancel', { reason: ' ' }, draft.id), { status: 422, code: 'input-refused', pointer: '/reason' });
    await ok(act('cancel', { reason: 'Nobody booked' }, draft.id));
    await expectRefused(studio.admin, () => studio.as.instructor.post(`/api/classes/${draft.id}/publish`, {}), { status: 409, code: 'class-not-draft' });
  });
});

test('a moved class keeps its cards; page and cards say the new day and room, what was issued stays as it was', async () => {
  const seat = await takeSeat(studio, room.benches[0]!);
  const before = await ok<{ cards: CardOut[] }>(studio.as.assistant.get(`/api/classes/${room.classId}/cards`));
  await ok(act('move', { startsAt: '2026-03-14T15:30:00Z', room: 'Front room' }));
  const now = { startsAt: '2026-03-14T15:30:00.000Z', room: 'Front room' };
  expect(await classOf()).toMatchObject(now);
  const after = await ok<{ cards: CardOut[] }>(studio.as.assistant.get(`/api/classes/${room.classId}/cards`));
  expect(after.cards).toEqual(before.cards.map((card) => ({ ...card, content: { ...card.content, ...now } })));
  expect((await viewOf(seat)).card.content).toMatchObject(now);
  const { rows } = await studio.admin.query<{ startsAt: string }>(`SELECT content->>'startsAt' AS "startsAt" FROM weigh_card WHERE class_id = $1`, [
    room.classId,
  ]);
  expect(new Set(rows.map((row) => row.startsAt))).toEqual(new Set(['2026-03-07T10:00:00.000Z']));
});

describe('copied', () => {
  test('is a draft with the same stations, the newest version and codes of its own', async () => {
    const newest = newId();
    await ok(studio.as.instructor.put(`/api/recipes/${room.recipeId}`, { revision: 1, draft: soundDraft({ title: 'Next bar' }) }));
    await ok(studio.as.instructor.post(`/api/recipes/${room.recipeId}/versions`, { id: newest, revision: 2 }));
    const copyId = newId();
    await ok(act('copy', { id: copyId, startsAt: '2026-03-21T10:00:00Z' }));
    const [was, is] = [await classOf(), await classOf(copyId)];
    expect(is).toMatchObject({
      status: 'draft',
      title: was.title,
      room: was.room,
      recipeVersionId: newest,
      naohLotId: room.lotId,
      startsAt: '2026-03-21T10:00:00.000Z',
    });
    const setUp = ({ stations }: ClassOut) =>
      stations.map(({ stationId, name, scaleStepMg, mouldVolumeMl }) => ({ stationId, name, scaleStepMg, mouldVolumeMl }));
    expect(setUp(is)).toEqual(setUp(was));
    const codes = [was, is].flatMap((each) => [each.joinCode, ...each.stations.map((station) => station.joinCode)]);
    expect(new Set(codes).size).toBe(codes.length);
    await ok(studio.as.instructor.post(`/api/classes/${copyId}/publish`, {}));
    // The version asked for is taken, an unknown one is not.
    const older = newId();
    await ok(act('copy', { id: older, startsAt: '2026-03-28T10:00:00Z', recipeVersionId: room.versionId }));
    expect((await classOf(older)).recipeVersionId).toBe(room.versionId);
    await expectRefused(studio.admin, () => act('copy', { startsAt: '2026-03-28T10:00:00Z', recipeVersionId: newId() }), { status: 404, code: 'not-found' });
  });

  test('a lot that the cabinet no longer holds is left behind', async () => {
    await handedOut(studio.as.manager, room.containerIds[0]!, room.classId, '1000');
    const copyId = newId();
    await ok(act('copy', { id: copyId, startsAt: '2026-03-21T10:00:00Z' }));
    expect((await classOf(copyId)).naohLotId).toBeNull();
  });
});

test('the spare of the class is the one that totals count on, unless another is asked for', async () => {
  const body = { ...(await classBody(studio, room.versionId)), sparePercent: 50 };
  await ok(studio.as.instructor.post('/api/classes', body));
  const { sparePercent, totals } = await classOf(body.id);
  expect(sparePercent).toBe(50);
  for (const total of totals) expect(total.totalMg).toBeGreaterThanOrEqual(total.sumMg * 1.5);
  expect((await ok<ClassOut>(studio.as.assistant.get(`/api/classes/${body.id}?spare=0`))).totals.every((total) => total.totalMg === total.sumMg)).toBe(true);
  const csv = (await studio.as.assistant.get(`/api/classes/${body.id}/prints/pull-list.csv`)).body;
  expect(csv).toMatch(/Gloves,,\d+,pairs,,50,/);
  for (const spare of [-1, 101, 2.5])
    await expectRefused(studio.admin, () => studio.as.instructor.put(`/api/classes/${body.id}`, { ...body, sparePercent: spare }), {
      status: 422,
      code: 'input-refused',
      pointer: '/sparePercent',
    });
});

test('stations of one class make recipes of their own: plans, totals and cards follow', async () => {
  const other = await publishedRecipe(studio, soundDraft({ title: 'Second bar', superfatPercent: '9' }));
  const body = await classBody(studio, room.versionId, { stations: 2, lotId: room.lotId });
  const stations = body.stations.map((station, i) => (i === 1 ? { ...station, recipeVersionId: other.versionId } : station));
  await ok(studio.as.instructor.post('/api/classes', { ...body, stations }));
  const made = await classOf(body.id);
  expect(made.stations.map(({ recipeTitle, recipeVersionId }) => [recipeTitle, recipeVersionId])).toEqual([
    [made.recipeTitle, null],
    ['Second bar', other.versionId],
  ]);
  const [first, second] = made.readiness;
  expect(second!.naohMg).toBeLessThan(first!.naohMg);
  expect(made.totals.find((total) => total.kind === 'naoh')!.sumMg).toBe(first!.naohMg + second!.naohMg);
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${body.id}/publish`, {}));
  expect(cards.map((card) => card.content.superfatAimPercent)).toEqual([cards[0]!.content.superfatAimPercent, 9]);
  const rows = await studio.admin.query('SELECT recipe_version_id AS id FROM weigh_card WHERE class_id = $1 ORDER BY number', [body.id]);
  expect(rows.rows).toEqual([{ id: room.versionId }, { id: other.versionId }]);
  const unknown = { ...body, id: newId(), stations: [{ ...body.stations[0]!, id: newId(), recipeVersionId: newId() }] };
  await expectRefused(studio.admin, () => studio.as.instructor.post('/api/classes', unknown), { status: 404, code: 'not-found' });
});

describe('looked at', () => {
  const check = (id: string, sent: object, by = studio.as.assistant) => by.post(`/api/classes/${id}/checks`, { id: newId(), remark: '', sound: true, ...sent });
  const item = async (id: string, key: string) => (await classOf(id)).checklist.find((each) => each.key === key)!;

  test('each thing on its own; the latest line holds and the earlier ones stay', async () => {
    expect(await item(room.classId, 'eyewash')).toMatchObject({ state: 'open', byName: null });
    await ok(check(room.classId, { itemKey: 'eyewash' }));
    expect(await item(room.classId, 'eyewash')).toMatchObject({ state: 'done', byName: 'Ada assistant' });
    expect(await item(room.classId, 'ventilation')).toMatchObject({ state: 'open' });
    await ok(check(room.classId, { itemKey: 'eyewash', sound: false, remark: 'Basket before it' }, studio.as.manager));
    expect(await item(room.classId, 'eyewash')).toMatchObject({ state: 'fault', words: expect.stringContaining('Basket before it') });
    const { rows } = await studio.admin.query('SELECT sound FROM class_check WHERE class_id = $1 ORDER BY seq', [room.classId]);
    expect(rows).toEqual([{ sound: true }, { sound: false }]);
    const input = { status: 422, code: 'input-refused' };
    await expectRefused(studio.admin, () => check(room.classId, { itemKey: 'eyewash', sound: false }), { ...input, pointer: '/remark' });
    await expectRefused(studio.admin, () => check(room.classId, { itemKey: 'all' }), { ...input, pointer: '/itemKey' });
    await ok(studio.as.instructor.post(`/api/classes/${room.classId}/close`, {}));
    await expectRefused(studio.admin, () => check(room.classId, { itemKey: 'ice' }), notOpen);
  });

  test('ventilation or eyewash found wanting stops publishing until it is looked at again; other things do not', async () => {
    for (const [itemKey, stops] of [
      ['ventilation', true],
      ['eyewash', true],
      ['gear', false],
    ] as const) {
      const draft = await classBody(studio, room.versionId);
      await ok(studio.as.instructor.post('/api/classes', draft));
      await ok(check(draft.id, { itemKey, sound: false, remark: 'Not as it should be' }));
      const publish = () => studio.as.instructor.post(`/api/classes/${draft.id}/publish`, {});
      if (stops) {
        await expectRefused(studio.admin, publish, { status: 409, code: 'class-not-ready', says: /Not as it should be/ });
        await ok(check(draft.id, { itemKey }));
      }
      await ok(publish());
    }
  });

  test('the last class’s notes are a follow-up until they are reviewed', async () => {
    await ok(act('move', { startsAt: '2026-05-01T10:00:00Z', room: '' }));
    const note = { id: newId(), kind: 'near miss', classId: room.classId, place: '', stepTitle: '', what: 'a cup', whatStoppedIt: '', doneAtOnce: '' };
    await ok(studio.as.instructor.post('/api/notes', note));
    const next = { ...(await classBody(studio, room.versionId)), startsAt: '2026-05-02T10:00:00Z' };
    await ok(studio.as.instructor.post('/api/classes', next));
    expect(await item(next.id, 'follow-ups')).toMatchObject({ state: 'open', link: '/studio/notes' });
    await ok(studio.as.manager.post(`/api/notes/${note.id}/reviews`, { id: newId(), outcome: 'looked into', learned: 'x', change: '' }));
    expect(await item(next.id, 'follow-ups')).toMatchObject({ state: 'done' });
  });
});
