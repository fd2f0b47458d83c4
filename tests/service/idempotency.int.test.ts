import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../apps/api/src/ids.ts';
import { bodyFor, describedRoutes, pathWith, routeName } from '../../apps/api/src/testing/every-route.ts';
import { goodEntry, stepsOf } from '../../apps/api/src/testing/card-steps.ts';
import { ok, takeSeat } from '../../apps/api/src/testing/classroom.ts';
import { fillStudio, seatAtWork } from '../../apps/api/src/testing/full-studio.ts';
import type { FullStudio } from '../../apps/api/src/testing/full-studio.ts';
import { rowCounts } from '../../apps/api/src/testing/refusals.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { Answer, Caller, TestStudio } from '../../apps/api/src/testing/test-studio.ts';

let service: TestStudio;
let studio: FullStudio;
let seat: Awaited<ReturnType<typeof seatAtWork>>;
beforeAll(async () => {
  service = await testStudio();
  studio = await fillStudio(service, service.admin, 'Own');
  seat = await seatAtWork(studio, 'Mira');
});
afterAll(() => service.close());

const note = (what = 'cup at the edge') => ({
  id: newId(),
  kind: 'near miss',
  classId: null,
  place: '',
  stepTitle: '',
  what,
  whatStoppedIt: '',
  doneAtOnce: '',
});
const reading = (supersedesId: string | null = null) => ({ id: newId(), stepNo: 3, entered: goodEntry(stepsOf(seat)[2]!), supersedesId });
const lastReading = async () =>
  (await service.admin.query<{ id: string }>('SELECT id FROM reading WHERE card_id = $1 AND step_no = 3 ORDER BY seq DESC LIMIT 1', [seat.bench.card.id]))
    .rows[0]?.id ?? null;
/** Writes that matter most if they happened twice, each with a body of its own every time it is asked for. */
const WRITES: [string, string, () => Promise<[Caller, string, { id: string }]>][] = [
  ['a reading', 'reading', async () => [seat.by, `/api/cards/${seat.bench.card.id}/readings`, reading(await lastReading())]],
  ['a gear act', 'gear_act', async () => [seat.by, '/api/gear/confirm', { id: newId(), itemKey: 'goggles' }]],
  ['a break', 'gear_act', async () => [seat.by, '/api/gear/lapse', { id: newId(), reason: '' }]],
  ['a visitor', 'seat', async () => [seat.by, '/api/gear/visitors', { id: newId(), name: 'Visitor' }]],
  ['a message', 'class_message', async () => [studio.as.assistant, `/api/classes/${studio.room.classId}/messages`, { id: newId(), text: 'Lids on' }]],
  ['a lapse', 'gear_act', async () => [studio.as.assistant, `/api/seats/${studio.seat.id}/lapse`, { id: newId(), reason: 'break' }]],
  [
    'a checkout',
    'ledger_line',
    async () => [
      studio.as.manager,
      '/api/checkouts',
      { id: newId(), containerId: studio.room.containerIds[0]!, classId: studio.room.classId, mass: '3', scaleStep: '1' },
    ],
  ],
  [
    'a transfer between containers',
    'ledger_line',
    async () => [
      studio.as.manager,
      `/api/containers/${studio.room.containerIds[0]!}/transfers`,
      { id: newId(), toContainerId: null, newContainer: { id: newId(), label: newId(), gross: '60', tare: '50' }, scaleStep: '1' },
    ],
  ],
  ['a note', 'note', async () => [studio.as.instructor, '/api/notes', note()]],
  [
    'a recipe (through Prisma)',
    'recipe',
    async () => [studio.as.owner, '/api/recipes', bodyFor({ method: 'POST', path: '/api/recipes' }, {} as never) as { id: string }],
  ],
];
const countOf = async (table: string) => (await rowCounts(service.admin))[table]!;
const seen = (answer: Answer): [number, unknown] => [answer.statusCode, answer.json()];

test.each(WRITES)('%s sent again with its key is done once and answered alike', async (_what, table, make) => {
  const [by, url, body] = await make();
  const key = newId();
  const before = await countOf(table);
  const first = await by.post(url, body, key);
  expect(first.statusCode, first.body).toBe(200);
  const counts = await rowCounts(service.admin);
  expect(counts[table]).toBe(before + 1);
  for (let n = 0; n < 3; n += 1) expect(seen(await by.post(url, body, key))).toEqual(seen(first));
  expect(await rowCounts(service.admin)).toEqual(counts);
});

test.each(WRITES)('%s sent ten times at one instant is done once; all ten hear the same', async (_what, table, make) => {
  const [by, url, body] = await make();
  const key = newId();
  const before = await countOf(table);
  const answers = await Promise.all(Array.from({ length: 10 }, () => by.post(url, body, key)));
  expect(answers[0]!.statusCode, answers[0]!.body).toBe(200);
  for (const answer of answers) expect(seen(answer)).toEqual(seen(answers[0]!));
  expect(await countOf(table)).toBe(before + 1);
});

test.each(WRITES)('%s: the key with other content, or at another address, is refused and nothing is done', async (_what, table, make) => {
  const [by, url, body] = await make();
  const key = newId();
  expect((await by.post(url, body, key)).statusCode).toBe(200);
  const counts = await rowCounts(service.admin);
  const mismatch = { status: 409, code: 'idempotency-mismatch' };
  const [, , other] = await make();
  expect((await by.post(url, other, key)).json(), table).toMatchObject(mismatch);
  expect((await by.post('/api/notes', note(), key)).json()).toMatchObject(mismatch);
  expect(await rowCounts(service.admin)).toEqual(counts);
});

test('a key belongs to its actor: another who uses it neither hears the answer nor is held up', async () => {
  const key = newId();
  const [mine, theirs] = [note('mine'), note('theirs')];
  const first = await ok<{ number: string }>(studio.as.instructor.post('/api/notes', mine, key));
  const other = await ok<{ number: string; id: string }>(studio.as.assistant.post('/api/notes', theirs, key));
  expect(other.id).toBe(theirs.id);
  expect(other.number).not.toBe(first.number);
  // the same body even: it is judged on its own, and its id is taken
  expect((await studio.as.owner.post('/api/notes', mine, key)).json()).toMatchObject({ code: 'already-exists', status: 409 });
  const neighbour = await takeSeat(studio, studio.room.benches[1]!, 'Joss');
  expect((await ok<{ id: string }>(neighbour.by.post('/api/notes', { ...theirs, id: newId() }, key))).id).not.toBe(theirs.id);
  await ok(neighbour.by.post('/api/seat/sign-out', {}));
});

test('a refused request leaves its key free: put right, it is done under the same key', async () => {
  const key = newId();
  const body = { ...reading(await lastReading()), entered: '1,234' };
  expect((await seat.by.post(`/api/cards/${seat.bench.card.id}/readings`, body, key)).statusCode).toBe(422);
  expect((await seat.by.post(`/api/cards/${seat.bench.card.id}/readings`, { ...body, entered: '1.5' }, key)).statusCode).toBe(200);
  const wrong = { id: newId(), containerId: studio.room.containerIds[0]!, classId: studio.room.classId, mass: '90 kg', scaleStep: '1' };
  expect((await studio.as.manager.post('/api/checkouts', wrong, key)).json()).toMatchObject({ status: 409, code: 'container-holds-less' });
  expect((await studio.as.manager.post('/api/checkouts', { ...wrong, mass: '1 g' }, key)).statusCode).toBe(200);
});

test('every write of the description wants a key, a readable one; signing in, joining and nameless notes have their own ways', async () => {
  const without = ['POST /api/setup', 'POST /api/sign-in', 'POST /api/sign-out', 'POST /api/join', 'POST /api/notes/anonymous'];
  without.push('POST /api/notes/anonymous/pictures', 'POST /api/note-status/{returnCode}/answers');
  const { room } = studio;
  const ids = {
    recipe: room.recipeId,
    fat: studio.fatId,
    version: room.versionId,
    class: room.classId,
    card: seat.bench.card.id,
    seat: studio.seat.id,
    checkOut: studio.openCheckOutId,
    jar: studio.jarId,
    note: studio.noteId,
    picture: studio.pictureId,
    followUp: studio.followUpId,
    change: studio.changeId,
    person: studio.ids.instructor,
    lot: room.lotId,
    container: room.containerIds[0]!,
    file: studio.fileId,
    scale: studio.scaleId,
    report: studio.reportId,
    request: studio.requestId,
    offer: studio.offerId,
    station: studio.stationId,
    reading: studio.readingId,
    stationCode: '',
    joinCode: '',
    returnCode: '',
  };
  const before = await rowCounts(service.admin);
  for (const route of describedRoutes(service.app).filter((each) => each.method !== 'GET' && !without.includes(routeName(each))))
    for (const key of [undefined, '', 'short', 'with space in it', 'x'.repeat(101)]) {
      const cookies = { cookie: `${studio.as.owner.cookie}; ${seat.by.cookie}`, ...(key === undefined ? {} : { 'idempotency-key': key }) };
      const answer = await service.app.inject({ method: route.method, url: pathWith(route.path, ids), payload: bodyFor(route, ids)!, headers: cookies });
      expect([routeName(route), key, answer.statusCode, answer.json<{ detail: string }>().detail]).toEqual([
        routeName(route),
        key,
        400,
        expect.stringContaining('Idempotency-Key'),
      ]);
    }
  expect(await rowCounts(service.admin)).toEqual(before);
});

test('an answer kept for a retry holds no secret', async () => {
  const { rows } = await service.admin.query<{ all: string }>('SELECT string_agg(response::text, chr(10)) AS all FROM idempotency');
  expect(rows[0]!.all).toMatch(/"id"/);
  expect(rows[0]!.all).not.toMatch(/argon2|password|token|ashwater_/i);
});
