import type { CardOut, Changes, ClassOut, FollowUpOut, FollowUps, NoteFiled, Problem } from '@ashwater/contracts';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { classBody, classroom, ok, takeSeat } from '../../../testing/classroom.ts';
import type { Classroom } from '../../../testing/classroom.ts';
import { handClock } from '../../../testing/clock.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

const clock = handClock('2026-03-02T09:00:00Z');
let studio: TestStudio;
let room: Classroom;
let noteId: string;
let number: string;
beforeAll(async () => {
  studio = await testStudio({ clock: () => clock.now });
  room = await classroom(studio, { stations: 1 });
  const told = { id: newId(), kind: 'near miss', place: '', stepTitle: '', what: 'A cup slid', whatStoppedIt: '', doneAtOnce: '', classId: room.classId };
  ({ id: noteId, number } = await ok<NoteFiled>(studio.as.instructor.post('/api/notes', told)));
});
afterAll(() => studio.close());

const open = async (dueOn = '2026-03-09', owner: 'instructor' | 'assistant' = 'instructor'): Promise<string> => {
  const id = newId();
  await ok(studio.as.manager.post('/api/follow-ups', { id, noteId, what: 'A tray with a rim', kind: 'guard', ownerId: studio.ids[owner], dueOn }));
  return id;
};
type Role = 'owner' | 'manager' | 'instructor' | 'assistant';
const act = (by: Role, id: string, kind: string, remark = 'seen on every bench') =>
  studio.as[by].post(`/api/follow-ups/${id}/acts`, { id: newId(), kind, remark });
const codeOf = async (answer: ReturnType<typeof act>) => (await answer).json<Problem>().code;
const seen = async (by: Role, id: string): Promise<FollowUpOut | undefined> =>
  (await ok<z.infer<typeof FollowUps>>(studio.as[by].get('/api/follow-ups'))).followUps.find((each) => each.id === id);

test('whoever reported it done does not verify it; another keeper does; taken up again it is open', async () => {
  const id = await open();
  expect(await codeOf(act('manager', id, 'verified')), 'nothing was reported').toBe('follow-up-state');
  expect(await codeOf(act('instructor', id, 'done', ''))).toBe('input-refused');
  await ok(act('manager', id, 'done'));
  expect((await seen('manager', id))?.doneByMe).toBe(true);
  expect([(await act('manager', id, 'verified')).statusCode, await codeOf(act('manager', id, 'verified'))]).toEqual([403, 'second-person-needed']);
  expect(await codeOf(act('instructor', id, 'verified'))).toBe('not-allowed');
  await ok(act('owner', id, 'verified'));
  expect((await seen('owner', id))?.state).toBe('verified');
  expect(await codeOf(act('owner', id, 'verified'))).toBe('follow-up-state');
  await ok(act('owner', id, 'reopened'));
  expect((await seen('owner', id))?.state).toBe('open');
  expect((await seen('owner', id))?.acts.map(({ kind }) => kind)).toEqual(['given', 'done', 'verified', 'reopened']);
});

test('verified and taken up again at the same moment: one of the two is refused', async () => {
  for (let round = 0; round < 5; round += 1) {
    const id = await open();
    await ok(act('instructor', id, 'done'));
    const both = await Promise.all([act('owner', id, 'verified'), act('manager', id, 'verified')]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  }
});

test('somebody who may not read notes sees what was given to them, by the note’s number, and nobody else’s', async () => {
  const [mine, theirs] = [await open('2026-03-20', 'assistant'), await open()];
  expect(await seen('assistant', mine)).toMatchObject({ noteNumber: number, noteId: null, owner: { name: 'Ada assistant' } });
  expect(await seen('assistant', theirs)).toBeUndefined();
  expect((await act('assistant', theirs, 'done')).statusCode).toBe(404);
  await ok(act('assistant', mine, 'done'));
  const give = (to: Role) =>
    studio.as.manager.post(`/api/follow-ups/${theirs}/acts`, { id: newId(), kind: 'given', ownerId: studio.ids[to], dueOn: '2026-03-25', remark: '' });
  await ok(give('assistant'));
  expect(await seen('assistant', theirs)).toMatchObject({ dueOn: '2026-03-25' });
});

const readiness = async (classId: string) => {
  const { checklist } = await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${classId}`));
  return checklist.find(({ key }) => key === 'follow-ups')!;
};
test('a follow-up past its day stands on the readiness list of the next class until it is done', async () => {
  const next = await classBody(studio, room.versionId, { title: 'Next week', name: 'bench 9' });
  await ok(studio.as.instructor.post('/api/classes', next));
  const before = (await readiness(next.id)).words;
  expect(before).not.toMatch(/past the day/);
  const id = await open('2026-03-30');
  clock.now = new Date('2026-03-30T20:00:00Z');
  const overdueOn = async () => /(\d+) follow-ups? to notes? (?:is|are) past the day/.exec((await readiness(next.id)).words)?.[1] ?? '0';
  const others = Number(await overdueOn());
  clock.now = new Date('2026-03-31T09:00:00Z');
  expect([Number(await overdueOn()), (await readiness(next.id)).state, (await readiness(next.id)).link]).toEqual([
    others + 1,
    'open',
    '/studio/notes/follow-ups',
  ]);
  await ok(act('instructor', id, 'done'));
  expect(Number(await overdueOn())).toBe(others);
});

test('a caution on a step and an item of gear stand on the next card issued, with the note’s number, and on none of another recipe; ended, on no card any more', async () => {
  const id = await open('2026-04-20');
  const change = (body: object) =>
    studio.as.manager.post(`/api/follow-ups/${id}/changes`, { id: newId(), recipeId: null, stationId: null, stepTitle: null, ...body });
  await ok(change({ target: 'step', stepTitle: 'Clean up', words: 'Two people carry the pot' }));
  await ok(change({ target: 'gear', words: 'Apron of rubber' }));
  await ok(change({ target: 'step', stepTitle: 'Clean up', recipeId: room.recipeId, words: 'This bar foams: half full' }));
  expect((await change({ target: 'step', words: 'no step' })).json<Problem>().errors?.[0]?.pointer).toBe('/stepTitle');
  expect((await change({ target: 'station', words: 'no station' })).json<Problem>().errors?.[0]?.pointer).toBe('/stationId');
  expect((await change({ target: 'recipe', recipeId: newId(), words: 'of nowhere' })).statusCode).toBe(404);
  const bench = (await classroom(studio, { stations: 1 })).benches[0]!;
  const { content } = bench.card;
  const words = content.steps.find(({ title }) => title === 'Clean up')?.because?.map(({ words: told, noteNumber }) => [told, noteNumber]) ?? [];
  expect(words).toEqual([['Two people carry the pot', number]]);
  const same = await classBody(studio, room.versionId, { title: 'Again', name: 'bench 12', lotId: room.lotId });
  await ok(studio.as.instructor.post('/api/classes', same));
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${same.id}/publish`, {}));
  expect(cards[0]!.content.steps.find(({ title }) => title === 'Clean up')?.because?.map(({ words: told }) => told)).toEqual([
    'Two people carry the pot',
    'This bar foams: half full',
  ]);
  expect(content.gear.at(-1)).toMatchObject({ name: 'Apron of rubber', check: `Asked for since note ${number}` });
  const seat = await takeSeat(studio, bench, 'Uma');
  await ok(seat.by.post('/api/gear/confirm', { id: newId(), itemKey: content.gear.at(-1)!.key }));
  const { changes } = await ok<z.infer<typeof Changes>>(studio.as.assistant.get('/api/note-changes'));
  for (const { id: changeId } of changes) await ok(studio.as.owner.post(`/api/note-changes/${changeId}/end`, {}));
  const after = (await classroom(studio, { stations: 1 })).benches[0]!.card.content;
  expect([after.steps.some(({ because }) => because), after.gear.some(({ name }) => name === 'Apron of rubber')]).toEqual([false, false]);
  expect(
    content.steps.some(({ because }) => because),
    'what was issued stays',
  ).toBe(true);
});
