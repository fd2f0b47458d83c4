import type { Blanked, NoteFiled, NoteOut, NoteSettings, NotePlace, Problem } from '@ashwater/contracts';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildApp } from '../../../app.ts';
import { readConfig } from '../../../config.ts';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import type { BareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { ONE_PIXEL } from '../../../testing/fill-notes.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let saturday: BareClass;
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

const told = (what: string) => ({ id: newId(), kind: 'near miss', place: 'Sink', stepTitle: '', what, whatStoppedIt: '', doneAtOnce: '' });
const file = async (what: string, daysAgo: number): Promise<string> => {
  const { id } = await ok<NoteFiled>(saturday.seat.post('/api/notes', { ...told(what), classId: null }));
  await ok(saturday.seat.post(`/api/notes/${id}/amendments`, { id: newId(), text: `${what}, added` }));
  await ok(saturday.seat.post(`/api/notes/${id}/pictures`, { id: newId(), base64: ONE_PIXEL }));
  // Time passes: the database's own clock decides what is past the rule.
  await studio.admin.query('SET session_replication_role = replica');
  await studio.admin.query(`UPDATE note SET filed_at = filed_at - make_interval(days => $2) WHERE id = $1`, [id, daysAgo]);
  await studio.admin.query('SET session_replication_role = origin');
  return id;
};
const note = (id: string) => ok<NoteOut>(studio.as.owner.get(`/api/notes/${id}`));
const blank = () => ok<z.infer<typeof Blanked>>(studio.as.manager.post('/api/note-settings/blank', {}));
const rule = (nameKeepDays: string, noteKeepDays: string) => studio.as.manager.put('/api/note-settings', { nameKeepDays, noteKeepDays });

test('what is past the rule is blanked, names before words; number, kind and day stay, and what is younger stays whole', async () => {
  await ok(rule('30', '100'));
  const [young, middle, old] = [await file('Young', 29), await file('Middle', 31), await file('Old', 101)];
  expect(await blank()).toEqual({ names: 2, notes: 1 });
  expect(await blank(), 'nothing is left to blank').toEqual({ names: 0, notes: 0 });
  expect(await note(young)).toMatchObject({ what: 'Young', byName: 'Sam', place: 'Sink', erasedOn: null });
  expect((await note(young)).pictures).toHaveLength(1);
  expect(await note(middle)).toMatchObject({ what: 'Middle', byName: '', amendments: [{ text: 'Middle, added' }] });
  const gone = await note(old);
  expect(gone).toMatchObject({ kind: 'near miss', what: '', place: '', byName: '', amendments: [], pictures: [], number: expect.stringMatching(/^N-/) });
  expect(gone.erasedOn).toMatch(/^\d{4}-/);
  expect((await studio.as.owner.post(`/api/notes/${old}/writer`, {})).statusCode).toBe(404);
  expect((await studio.as.owner.post(`/api/notes/${old}/amendments`, { id: newId(), text: 'x' })).statusCode, 'nothing is added to it').toBe(404);
  const { rows } = await studio.admin.query<{ n: string }>(
    `SELECT (SELECT count(*) FROM note_picture WHERE note_id = $1 AND length(bytes) > 0) + (SELECT count(*) FROM note_amendment WHERE note_id = $1 AND text <> '')
       + (SELECT count(*) FROM note_identity WHERE note_id = $1 AND (by_name <> '' OR seat_id IS NOT NULL)) AS n`,
    [old],
  );
  expect(rows[0]!.n, 'and not only hidden').toBe('0');
});

test('once a day it is done by itself, after somebody of the studio asked for anything, and the audit says that nobody did it', async () => {
  await ok(rule('30', '100'));
  const [young, old] = [await file('Not yet', 29), await file('Long ago', 101)];
  // Started again, it does not know that it was done today.
  const again = await buildApp(readConfig({ DATABASE_APP_URL: studio.database.appUrl, LOG_LEVEL: 'silent' }));
  try {
    const audits = async () =>
      (await studio.admin.query<{ detail: object }>(`SELECT detail FROM audit WHERE actor = 'the service' AND action = 'blanked old notes' ORDER BY seq`)).rows;
    const ask = async () => (await again.inject({ method: 'GET', url: '/api/notes', headers: { cookie: studio.as.manager.cookie } })).statusCode;
    expect((await again.inject({ method: 'GET', url: '/api/notes' })).statusCode).toBe(401);
    expect((await note(old)).what, 'a stranger’s request leads to nothing').toBe('Long ago');
    expect(await ask()).toBe(200);
    await expect.poll(audits).toEqual([{ detail: { names: 1, notes: 1 } }]);
    expect([(await note(old)).what, (await note(young)).what]).toEqual(['', 'Not yet']);
    const late = await file('Found the same day', 101);
    await ask();
    await ask();
    expect((await note(late)).what, 'once a day').toBe('Found the same day');
    expect(await audits()).toHaveLength(1);
  } finally {
    await again.close();
  }
});

test('not even the tables’ owner blanks what the studio still keeps, or changes a word of it while blanking', async () => {
  await ok(rule('30', '100'));
  const [kept, past] = [await file('Kept', 50), await file('Past', 200)];
  const stateOf = (sql: string, values: unknown[]) =>
    studio.admin.query(sql, values).then(
      () => 'done',
      (error: { code?: string }) => error.code,
    );
  const all = `what = '', place = '', how = '', when_words = '', step_title = '', what_stopped_it = '', done_at_once = '', erased_on = now()`;
  expect(await stateOf(`UPDATE note SET ${all} WHERE id = $1`, [kept])).toBe('AW001');
  expect(await stateOf(`UPDATE note SET ${all}, kind = 'incident' WHERE id = $1`, [past])).toBe('AW001');
  expect(await stateOf(`UPDATE note SET what = 'It was nothing', erased_on = now() WHERE id = $1`, [past])).toBe('AW001');
  expect(await stateOf(`UPDATE note SET ${all.replace(', erased_on = now()', '')} WHERE id = $1`, [past]), 'blanked without saying so').toBe('AW001');
  expect(await stateOf(`UPDATE note_identity SET by_name = 'Somebody else', erased_on = now() WHERE note_id = $1`, [past])).toBe('AW001');
  expect(await stateOf(`DELETE FROM note WHERE id = $1`, [past])).toBe('AW001');
  expect(await stateOf(`UPDATE note SET ${all} WHERE id = $1`, [past])).toBe('done');
});

test.each([
  ['/noteKeepDays', '30', '0'],
  ['/noteKeepDays', '30', 'ten years'],
  ['/nameKeepDays', '', '100'],
  ['/nameKeepDays', '101', '100'],
])('a rule that cannot stand is refused at %s: names %j, notes %j', async (pointer, names, notes) => {
  const answer = await rule(names, notes);
  expect([answer.statusCode, answer.json<Problem>().errors?.[0]?.pointer]).toEqual([422, pointer]);
});

test('a code on the wall leads to the studio’s nameless note, and a new one makes the old useless', async () => {
  const make = async () => (await ok<NoteSettings>(studio.as.manager.post('/api/note-settings/wall-code', {}))).wallCode;
  const place = (code: string) => studio.app.inject({ method: 'GET', url: `/api/note-place/${code}` });
  expect((await place('')).statusCode).toBe(404);
  const first = await make();
  expect((await place(first)).json<z.infer<typeof NotePlace>>()).toMatchObject({ emergencyPhone: '112' });
  const filed = await studio.app.inject({ method: 'POST', url: '/api/notes/anonymous', payload: { ...told('By the wall'), code: first } });
  expect(filed.statusCode).toBe(200);
  const second = await make();
  expect([(await place(first)).statusCode, (await place(second)).statusCode]).toEqual([404, 200]);
  expect((await studio.app.inject({ method: 'GET', url: `/api/join/${second}` })).statusCode, 'it joins no class').toBe(404);
});
