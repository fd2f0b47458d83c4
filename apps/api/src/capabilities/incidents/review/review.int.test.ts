import type { MyNotes, NoteFiled, NoteOut, NoteStatus, Notes, Problem } from '@ashwater/contracts';
import type { InjectOptions } from 'fastify';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import type { BareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { dump } from '../../../testing/dump.ts';
import { logOf } from '../../../testing/log-of.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Caller, TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let saturday: BareClass;
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

const told = (what: string, more: object = {}) => ({
  id: newId(),
  kind: 'near miss',
  place: '',
  stepTitle: '',
  what,
  whatStoppedIt: '',
  doneAtOnce: '',
  classId: null,
  ...more,
});
const file = (by: Caller, what: string, more: object = {}) => ok<NoteFiled>(by.post('/api/notes', told(what, more)));
const note = (id: string) => ok<NoteOut>(studio.as.manager.get(`/api/notes/${id}`));
const judged = (more: object = {}) => ({
  id: newId(),
  actual: 'none',
  potential: 'serious',
  category: 'spill',
  causes: ['method'],
  staff: false,
  classId: null,
  cardId: null,
  lotId: null,
  containerId: null,
  ...more,
});
const triage = (id: string, more: object = {}) => studio.as.manager.post(`/api/notes/${id}/triage`, judged(more));

const WRITER = 'Ada assistant';
test('who told a note in confidence stands in no answer, no export, no event and no audit; asking for it is itself in the audit', async () => {
  const before = new Set(await dump(studio.admin));
  const { id, number } = await file(studio.as.assistant, 'Told in confidence', { signing: 'confidential', classId: saturday.classId });
  const added = (await dump(studio.admin)).filter((row) => !before.has(row));
  // Its own row of names, and the key that makes a second sending harmless: nothing else holds who it was.
  const leads = added.filter((row) => row.includes(studio.ids.assistant) || row.includes(WRITER)).map((row) => row.split(' ')[0]);
  expect(leads.sort()).toEqual(['idempotency', 'note_identity']);
  expect(
    added.filter((row) => row.startsWith('event') && row.includes(saturday.classId)),
    'the event does not say in which class',
  ).toEqual([]);
  const range = { fromDay: '2020-01-01', toDay: '2099-12-31' };
  // The lists of people to choose from name everybody, whoever told.
  const { choices: _, ...read } = await note(id);
  const exported = await studio.as.owner.post('/api/note-export', { ...range, names: true });
  const lists = await Promise.all(['/api/notes', '/api/note-month', '/api/follow-ups'].map((path) => studio.as.owner.get(path)));
  const shown = [JSON.stringify(read), exported.body, ...lists.map(({ body }) => body)];
  expect(shown.filter((text) => text.includes(WRITER) || text.includes(studio.ids.assistant))).toEqual([]);
  expect(exported.body, 'exported, without who').toContain(number);
  const audits = async () =>
    (await studio.admin.query<{ actor: string; action: string }>(`SELECT actor, action FROM audit WHERE subject = $1 ORDER BY seq`, [`note:${id}`])).rows;
  expect(await audits()).toEqual([{ actor: 'in confidence', action: 'filed a note' }]);
  for (const role of ['instructor', 'assistant'] as const) expect((await studio.as[role].post(`/api/notes/${id}/writer`, {})).statusCode).toBe(403);
  for (const role of ['owner', 'manager'] as const)
    expect((await ok<{ byName: string }>(studio.as[role].post(`/api/notes/${id}/writer`, {}))).byName).toBe(WRITER);
  expect((await audits()).slice(1)).toEqual(
    (['owner', 'manager'] as const).map((role) => ({ actor: `account:${studio.ids[role]}`, action: 'read who told a note in confidence' })),
  );
});

test('the log holds no word of a note and no name, also where who told it in confidence is asked for', async () => {
  const note = told('Logword one', { signing: 'confidential', place: 'Logword two', how: 'Logword three' });
  const by = (role: 'assistant' | 'manager', url: string, payload: object): InjectOptions => ({
    method: 'POST',
    url,
    payload,
    headers: { cookie: studio.as[role].cookie, 'idempotency-key': newId() },
  });
  const { log, statuses } = await logOf(studio.database.appUrl, [
    by('assistant', '/api/notes', note),
    by('assistant', '/api/notes', { ...note, id: newId(), kind: 'Logword four' }),
    by('assistant', `/api/notes/${note.id}/amendments`, { id: newId(), text: 'Logword five' }),
    by('manager', `/api/notes/${note.id}/writer`, {}),
    by('manager', `/api/notes/${note.id}/triage`, judged()),
    { method: 'GET', url: `/api/notes/${note.id}`, headers: { cookie: studio.as.manager.cookie } },
  ]);
  expect(statuses).toEqual([200, 422, 200, 200, 200, 200]);
  expect(log, 'it does tell of the requests').toContain(`/api/notes/${note.id}/writer`);
  expect(log).not.toMatch(/Logword|Ada|Jug/);
  for (const id of Object.values(studio.ids)) expect(log).not.toContain(id);
});

test('a note says how soon it is looked into, by what it did and what it could have done', async () => {
  const { id } = await file(studio.as.instructor, 'A cup at the edge');
  expect((await note(id)).priority).toBe('not judged');
  await ok(triage(id));
  expect(await note(id)).toMatchObject({ priority: 'this week', triage: { actual: 'none', potential: 'serious', category: 'spill', byName: 'Ada manager' } });
  await ok(triage(id, { potential: 'grave', classId: saturday.classId }));
  const again = await note(id);
  expect([again.priority, again.triage?.about.map(({ sort, id: about }) => [sort, about])]).toEqual(['at once', [['class', saturday.classId]]]);
  expect((await studio.admin.query('SELECT 1 FROM note_triage WHERE note_id = $1', [id])).rowCount, 'the earlier judgement stays').toBe(2);
});

test.each([
  ['/potential', { actual: 'grave', potential: 'slight' }, 422],
  ['/causes', { causes: [] }, 422],
  ['/category', { category: 'bad luck' }, 422],
  [undefined, { lotId: '01a21dc7-610f-7a62-884c-ca7017813065' }, 404],
])('a judgement that cannot stand is refused at %s', async (pointer, more, status) => {
  const { id } = await file(studio.as.instructor, 'Judged wrongly');
  const answer = await triage(id, more);
  expect([answer.statusCode, answer.json<Problem>().errors?.[0]?.pointer]).toEqual([status, pointer]);
});

test('two notes of one thing lead to each other, count once, and both reporters see what came of it; apart again they count twice', async () => {
  const [kept, twin] = [await file(studio.as.instructor, 'Jug slipped'), await file(saturday.seat, 'A jug slipped beside me', { signing: 'confidential' })];
  const merge = (id: string, intoId: string | null) => studio.as.manager.post(`/api/notes/${id}/merge`, { id: newId(), intoId });
  const counted = async () => (await ok<{ notes: { nearMisses: number } }>(studio.as.manager.get('/api/note-month'))).notes.nearMisses;
  const before = await counted();
  await ok(merge(twin.id, kept.id));
  expect(await counted()).toBe(before - 1);
  expect([(await note(twin.id)).toldWith, (await note(kept.id)).sameAs.map(({ number }) => number)]).toEqual([kept.number, [twin.number]]);
  await ok(studio.as.manager.post(`/api/notes/${kept.id}/reviews`, { id: newId(), outcome: 'change made', learned: 'Wet handles slip', change: '' }));
  const mine = await ok<z.infer<typeof MyNotes>>(saturday.seat.get('/api/my-notes'));
  expect(mine.notes.find(({ id }) => id === twin.id)?.outcomes.map(({ learned }) => learned)).toEqual(['Wet handles slip']);
  expect((await ok<z.infer<typeof Notes>>(studio.as.owner.get('/api/notes'))).notes.find(({ id }) => id === twin.id)?.reviewed).toBe(true);
  const third = await file(studio.as.instructor, 'The jug, too');
  const refusal = async (id: string, into: string) => (await merge(id, into)).json<Problem>().code;
  expect([await refusal(third.id, twin.id), await refusal(kept.id, third.id), await refusal(third.id, third.id)]).toEqual([
    'note-merged',
    'note-merged',
    'input-refused',
  ]);
  await ok(merge(twin.id, null));
  expect([await counted(), (await note(twin.id)).toldWith]).toEqual([before + 1, null]);
});

test('two notes put with each other at the same moment: one is refused', async () => {
  for (let round = 0; round < 12; round += 1) {
    const [a, b] = [await file(studio.as.instructor, 'One'), await file(studio.as.instructor, 'Other')];
    const both = await Promise.all([
      studio.as.manager.post(`/api/notes/${a.id}/merge`, { id: newId(), intoId: b.id }),
      studio.as.owner.post(`/api/notes/${b.id}/merge`, { id: newId(), intoId: a.id }),
    ]);
    expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  }
});

test('a question and its answer by return code stand beside the note, and nobody but its writer adds to it', async () => {
  const filed = await file(saturday.seat, 'Fumes at the sink', { signing: 'confidential' });
  await ok(studio.as.owner.post(`/api/notes/${filed.id}/amendments`, { id: newId(), text: 'Was the fan on?' }));
  expect((await studio.as.instructor.post(`/api/notes/${filed.id}/amendments`, { id: newId(), text: 'x' })).statusCode).toBe(404);
  const answers = `/api/note-status/${filed.returnCode!}/answers`;
  const post = () => studio.app.inject({ method: 'POST', url: answers, payload: { code: saturday.joinCode, text: 'No, it was off.' } });
  const before = await dump(studio.admin);
  const told = (await post()).json<NoteStatus>();
  await post();
  expect(told.amendments.map(({ kind, text, byName }) => [kind, text, byName])).toEqual([
    ['question', 'Was the fan on?', null],
    ['answer', 'No, it was off.', null],
  ]);
  const added = (await dump(studio.admin)).filter((row) => !before.includes(row));
  expect(
    added.map((row) => row.split(' ')[0]),
    'sent twice, kept once, and nothing beside it',
  ).toEqual(['note_amendment']);
  expect(added[0]).not.toContain(saturday.seatId);
  expect((await note(filed.id)).amendments.map(({ byName }) => byName)).toEqual(['Ada owner', null]);
  await ok(saturday.seat.post(`/api/notes/${filed.id}/amendments`, { id: newId(), text: 'And the window was shut.' }));
  expect((await note(filed.id)).amendments.find(({ kind }) => kind === 'added')?.byName, 'in confidence stays in confidence').toBeNull();
});
