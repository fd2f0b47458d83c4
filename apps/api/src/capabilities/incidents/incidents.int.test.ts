import type { NoteFiled, NoteOut, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { z } from 'zod';
import { newId } from '../../ids.ts';
import { bareClass } from '../../testing/bare-class.ts';
import type { BareClass } from '../../testing/bare-class.ts';
import { dump } from '../../testing/dump.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';
import { insertNumbered } from './numbering.ts';

type Filed = z.infer<typeof NoteFiled>;
let studio: TestStudio;
let saturday: BareClass;
// half past midnight in Lisbon's summer is the evening before in UTC
const NOW = new Date('2026-07-10T23:30:00Z');
beforeAll(async () => {
  studio = await testStudio({ clock: () => NOW });
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

const told = (what: string) => ({
  id: newId(),
  kind: 'near miss' as const,
  place: 'Sink',
  stepTitle: 'Lye into the liquid',
  what,
  whatStoppedIt: 'Goggles',
  doneAtOnce: 'Rinsed with water',
});

test('a named note of a student belongs to the seat and its class, on the studio’s own day', async () => {
  const filed = (await saturday.seat.post('/api/notes', { ...told('The jug stood at the edge.'), classId: null })).json<Filed>();
  expect(filed).toMatchObject({ returnCode: expect.stringMatching(/^\w{10}$/), number: expect.stringMatching(/^N-[A-Z0-9]{4}$/) });
  const note = (await studio.as.manager.get(`/api/notes/${filed.id}`)).json<NoteOut>();
  expect(note).toMatchObject({
    number: filed.number,
    signing: 'named',
    byName: 'Sam',
    classTitle: 'Saturday beginners',
    happenedOn: '2026-07-11',
    reviewed: false,
    reviews: [],
    place: 'Sink',
  });
});

test('a named note’s words stand in no other table than note and the answer kept for a retry names it by number only', async () => {
  const what = 'Zinnober kettle tipped';
  const input = { ...told(what), classId: saturday.classId };
  const filed = (await studio.as.instructor.post('/api/notes', input)).json<Filed>();
  const rows = await dump(studio.admin);
  expect(rows.filter((row) => row.includes(what)).map((row) => row.split(' ')[0])).toEqual(['note']);
  const announced = await studio.admin.query(`SELECT class_id, subject_id FROM event WHERE kind = 'note-filed' ORDER BY seq DESC LIMIT 1`);
  expect(announced.rows).toEqual([{ class_id: saturday.classId, subject_id: null }]);
  const audited = await studio.admin.query('SELECT action, actor, detail FROM audit WHERE subject = $1', [`note:${filed.id}`]);
  expect(audited.rows).toEqual([{ action: 'filed a note', actor: `account:${studio.ids.instructor}`, detail: { kind: 'near miss' } }]);
});

test('only owner and manager read notes; a note about a class of nowhere is refused', async () => {
  for (const role of ['instructor', 'assistant'] as const) expect((await studio.as[role].get('/api/notes')).statusCode).toBe(403);
  expect((await saturday.seat.get('/api/notes')).statusCode).toBe(401);
  expect((await studio.as.instructor.post('/api/notes', { ...told('x'), classId: newId() })).statusCode).toBe(404);
  expect((await studio.as.manager.get(`/api/notes/${newId()}`)).statusCode).toBe(404);
});

test('a review is added, never replaced, and announced without its words', async () => {
  const { id } = (await studio.as.assistant.post('/api/notes', { ...told('Wet floor.'), classId: null })).json<Filed>();
  const review = (outcome: string, learned: string) =>
    studio.as.manager.post(`/api/notes/${id}/reviews`, { id: newId(), outcome, learned, change: 'Mat by the sink' });
  expect((await review('looked into', 'The tap drips')).statusCode).toBe(200);
  expect((await review('change made', 'A mat helps')).statusCode).toBe(200);
  expect((await review('ignored', 'x')).statusCode).toBe(422);
  const note = (await studio.as.owner.get(`/api/notes/${id}`)).json<NoteOut>();
  expect(note.reviewed).toBe(true);
  expect(note.reviews.map(({ outcome, learned, byName }) => [outcome, learned, byName])).toEqual([
    ['looked into', 'The tap drips', 'Ada manager'],
    ['change made', 'A mat helps', 'Ada manager'],
  ]);
  const rows = await dump(studio.admin);
  expect(rows.filter((row) => row.includes('A mat helps')).map((row) => row.split(' ')[0])).toEqual(['note_review']);
  expect(rows.filter((row) => row.startsWith('event') && row.includes('note-reviewed') && row.includes(id))).toHaveLength(2);
});

test('a taken number is passed over', async () => {
  const { number } = (await studio.as.assistant.post('/api/notes', { ...told('Again.'), classId: null })).json<Filed>();
  const draws = [number.slice(2), number.slice(2), 'FREE'];
  const given = await studio.app.db.transact(studio.studioId, (tx) =>
    insertNumbered(
      tx,
      studio.studioId,
      {
        ...told('Later.'),
        harms: [],
        whenWords: '',
        how: '',
        signing: 'named',
        classId: null,
        cardId: null,
        happenedOn: '2026-07-10',
        filedAt: NOW,
        returnHash: null,
      },
      () => draws.shift() ?? 'NONE',
    ),
  );
  expect(given).toBe('N-FREE');
});

test('who holds the return code reads what became of an anonymous note, and no name', async () => {
  const post = (body: object) => studio.app.inject({ method: 'POST', url: '/api/notes/anonymous', payload: body });
  const filed = (await post({ ...told('Fumes.'), code: saturday.stationCode })).json<Filed>();
  const status = (returnCode: string, code: string) =>
    studio.app.inject({ method: 'GET', url: `/api/note-status/${encodeURIComponent(returnCode)}?code=${code}` });
  expect((await status(filed.returnCode!, saturday.joinCode)).json()).toEqual({
    number: filed.number,
    kind: 'near miss',
    happenedOn: '2026-07-10',
    what: 'Fumes.',
    reviewed: false,
    outcomes: [],
    amendments: [],
    followUps: [],
    toldWith: null,
  });
  const { notes } = (await studio.as.owner.get('/api/notes')).json<{ notes: { id: string; number: string }[] }>();
  const stored = notes.find(({ number }) => number === filed.number)!;
  await studio.as.owner.post(`/api/notes/${stored.id}/reviews`, { id: newId(), outcome: 'change made', learned: 'Fan was off', change: 'Fan on the list' });
  const typed = `${filed.returnCode!.slice(0, 5).toLowerCase()} ${filed.returnCode!.slice(5)}`;
  expect((await status(typed, saturday.joinCode)).json()).toMatchObject({
    number: filed.number,
    reviewed: true,
    outcomes: [{ outcome: 'change made', learned: 'Fan was off', change: 'Fan on the list' }],
  });
  expect((await status('AAAAAAAAAA', saturday.joinCode)).json<Problem>().code).toBe('not-found');
  expect((await status(filed.returnCode!, 'NOCODE')).json<Problem>().code).toBe('code-unknown');
});
