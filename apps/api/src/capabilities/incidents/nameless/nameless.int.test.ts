import type { NoteFiled, NoteOut, Problem } from '@ashwater/contracts';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { z } from 'zod';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import type { BareClass } from '../../../testing/bare-class.ts';
import { dump, rowsWrittenBy } from '../../../testing/dump.ts';
import { logOf } from '../../../testing/log-of.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';
import { returnCodeOf } from '../return-code.ts';

type Filed = z.infer<typeof NoteFiled>;
let studio: TestStudio;
let saturday: BareClass;
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
});
afterAll(() => studio.close());

const WHAT = 'Amaranth pot boiled over';
const told = (change: object = {}) => ({
  id: newId(),
  kind: 'incident' as const,
  place: '',
  stepTitle: '',
  what: WHAT,
  whatStoppedIt: '',
  doneAtOnce: '',
  code: saturday.joinCode,
  ...change,
});
const KEY = 'key-that-must-not-be-kept-1';
// A browser that is signed in, at a station, and sends more than it should: none of it may be kept.
const post = (payload: object, remoteAddress = '203.0.113.77') =>
  studio.app.inject({
    method: 'POST',
    url: '/api/notes/anonymous',
    payload,
    remoteAddress,
    headers: {
      cookie: `${studio.as.instructor.cookie}; ${saturday.seat.cookie}`,
      'idempotency-key': KEY,
      'x-request-id': 'request-77',
      'user-agent': 'Browser/77',
    },
  });

test('an anonymous note leaves one row, and nothing in it or beside it leads to its writer', async () => {
  const before = await dump(studio.admin);
  const note = told();
  const answer = await post(note);
  expect(answer.statusCode).toBe(200);
  const after = await dump(studio.admin);
  const added = after.filter((row) => !before.includes(row));
  expect(added).toHaveLength(1);
  expect(after).toHaveLength(before.length + 1);
  expect(added[0]).toMatch(/^note .*Amaranth/);
  expect(after.filter((row) => row.includes(WHAT))).toEqual(added);

  const secretOf = (cookie: string) => cookie.split('.')[1]!;
  const traces = [
    studio.ids.instructor,
    saturday.seatId,
    saturday.classId,
    secretOf(studio.as.instructor.cookie),
    secretOf(saturday.seat.cookie),
    note.id,
    KEY,
    'request-77',
    '203.0.113',
    'Browser/77',
    'Ada instructor',
    'Sam',
  ];
  expect(traces.filter((trace) => added[0]!.includes(trace))).toEqual([]);
  expect([note.id, KEY, 'request-77', '203.0.113', answer.json<Filed>().returnCode!].filter((trace) => after.some((row) => row.includes(trace)))).toEqual([]);
});

test('its transaction wrote no other row, its time is the UTC day, and its id tells no time', async () => {
  const { number } = (await post(told())).json<Filed>();
  const found = await studio.admin.query<{ id: string; xmin: string; midnight: boolean }>(
    `SELECT id, xmin::text AS xmin, filed_at = date_trunc('day', now(), 'UTC') AND happened_on = (now() AT TIME ZONE 'UTC')::date AS midnight FROM note WHERE number = $1`,
    [number],
  );
  expect(await rowsWrittenBy(studio.admin, found.rows[0]!.xmin)).toEqual(['note']);
  expect(found.rows[0]!.midnight).toBe(true);
  expect(found.rows[0]!.id[14], 'RFC 9562: version 4 is random').toBe('4');
});

test('a picture of an anonymous note comes in a transaction of its own, without place, time or the id that led to it', async () => {
  const note = told({ what: 'Seen in a picture' });
  await post(note);
  const sent = await sharp({ create: { width: 20, height: 10, channels: 3, background: '#369' } })
    .withExif({ IFD0: { Copyright: 'secret owner' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } })
    .jpeg()
    .toBuffer();
  const before = await dump(studio.admin);
  const picture = (noteId: string, base64 = sent.toString('base64')) =>
    studio.app.inject({ method: 'POST', url: '/api/notes/anonymous/pictures', payload: { noteId, code: saturday.joinCode, base64 } });
  expect((await picture(note.id)).statusCode).toBe(200);
  const added = (await dump(studio.admin)).filter((row) => !before.includes(row));
  expect(added.map((row) => row.split(' ')[0])).toEqual(['note_picture']);
  for (const trace of [note.id, saturday.seatId, saturday.classId, Buffer.from('secret owner').toString('hex'), Buffer.from('GPS').toString('hex')])
    expect(added[0]!.includes(trace), trace).toBe(false);
  const found = await studio.admin.query<{ id: string; xmin: string; bytes: Buffer }>(
    `SELECT p.id, p.xmin::text AS xmin, p.bytes FROM note_picture p JOIN note n ON n.id = p.note_id WHERE n.what = 'Seen in a picture'`,
  );
  expect(await rowsWrittenBy(studio.admin, found.rows[0]!.xmin)).toEqual(['note_picture']);
  expect((await sharp(found.rows[0]!.bytes).metadata()).exif).toBeUndefined();
  expect((await studio.as.owner.get(`/api/note-pictures/${found.rows[0]!.id}`)).headers).toMatchObject({
    'content-type': 'image/jpeg',
    'x-content-type-options': 'nosniff',
  });
  expect((await picture(newId())).statusCode, 'of a note of nobody').toBe(404);
  const refused = (await picture(note.id, Buffer.from('<svg onload="alert(1)"/>').toString('base64'))).json<Problem>();
  expect(refused).toMatchObject({ status: 422, errors: [{ pointer: '/base64', detail: expect.stringContaining('JPEG, PNG or WebP') }] });
  for (const _ of [2, 3]) await picture(note.id);
  expect((await picture(note.id)).statusCode, 'a fourth').toBe(422);
});

test('two anonymous notes of one person hold nothing in common but the studio, the kind and the day', async () => {
  const [one, two] = [told({ what: 'First of two' }), told({ what: 'Second of two' })];
  for (const note of [one, two]) await post(note);
  const { rows } = await studio.admin.query<Record<string, unknown>>(`SELECT * FROM note WHERE what IN ('First of two', 'Second of two') ORDER BY what`);
  const same = Object.keys(rows[0]!).filter(
    (column) => JSON.stringify(rows[0]![column]) === JSON.stringify(rows[1]![column]) && !['', null].includes(rows[0]![column] as null),
  );
  expect(same.sort()).toEqual(['filed_at', 'happened_on', 'harms', 'kind', 'signing', 'studio_id']);
});

test('the same note sent again, even at once, gets the same answer and is stored once', async () => {
  const notes = ['Sent often 1', 'Sent often 2', 'Sent often 3'].map((what) => told({ what }));
  for (const note of notes) {
    const answers = await Promise.all(Array.from({ length: 12 }, () => post(note, `203.0.113.${notes.indexOf(note)}`)));
    answers.push(await post(note, '203.0.113.79'));
    const filed = answers.map((answer) => answer.json<Filed>());
    expect(filed[0]).toMatchObject({ id: note.id, number: expect.stringMatching(/^N-/), returnCode: expect.stringMatching(/^\w{10}$/) });
    expect(new Set(filed.map((one) => JSON.stringify(one))).size).toBe(1);
  }
  expect((await studio.admin.query(`SELECT 1 FROM note WHERE what LIKE 'Sent often%'`)).rowCount).toBe(3);
});

test('the manager reads it without name, class or hour', async () => {
  const { number } = (await post(told({ what: 'Read me' }))).json<Filed>();
  const { notes } = (await studio.as.manager.get('/api/notes')).json<{ notes: { id: string; number: string }[] }>();
  const note = (await studio.as.manager.get(`/api/notes/${notes.find((one) => one.number === number)!.id}`)).json<NoteOut>();
  expect(note).toMatchObject({ signing: 'anonymous', byName: null, classTitle: null, what: 'Read me', happenedOn: new Date().toISOString().slice(0, 10) });
});

test('a code that leads nowhere is refused at its field', async () => {
  const refused = (await post(told({ code: 'XXXXXX' }))).json<Problem>();
  expect(refused).toMatchObject({ code: 'code-unknown', status: 404, errors: [{ pointer: '/code' }] });
});

test('a class behind one address gets through, a flood does not', async () => {
  const statuses: number[] = [];
  for (let n = 0; n < 31; n += 1)
    statuses.push(
      (await studio.app.inject({ method: 'POST', url: '/api/notes/anonymous', payload: told({ code: 'XXXXXX' }), remoteAddress: '203.0.113.9' })).statusCode,
    );
  expect(statuses.slice(0, 30)).toEqual(Array.from({ length: 30 }, () => 404));
  expect(statuses[30]).toBe(429);
});

test('the log tells of other requests, never of this one or of asking for its outcome', async () => {
  const note = told({ what: 'Logged?' });
  const { log, statuses } = await logOf(studio.database.appUrl, [
    { method: 'GET', url: '/api/setup' },
    { method: 'POST', url: '/api/notes/anonymous', payload: note },
    { method: 'GET', url: `/api/note-status/${returnCodeOf(note.id)}?code=${note.code}` },
    { method: 'POST', url: '/api/notes/anonymous', payload: { code: 'XXXXXX' } },
  ]);
  expect(statuses).toEqual([200, 200, 200, 422]);
  expect((await studio.admin.query(`SELECT 1 FROM note WHERE what = 'Logged?'`)).rowCount).toBe(1);
  expect(log).toContain('/api/setup');
  expect(log).not.toMatch(/note|Logged/);
});
