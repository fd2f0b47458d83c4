import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../apps/api/src/ids.ts';
import { dump } from '../../apps/api/src/testing/dump.ts';
import { bodyFor, describedRoutes, pathWith, routeName } from '../../apps/api/src/testing/every-route.ts';
import type { Ids, Route } from '../../apps/api/src/testing/every-route.ts';
import { fillStudio, seatAtWork } from '../../apps/api/src/testing/full-studio.ts';
import type { FullStudio } from '../../apps/api/src/testing/full-studio.ts';
import { studioOn, testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { Caller, TestStudio } from '../../apps/api/src/testing/test-studio.ts';

const CANARY = 'canary';
let service: TestStudio;
let a: FullStudio;
let b: FullStudio;
let seatOfA: Caller;
let routes: Route[];
beforeAll(async () => {
  service = await testStudio();
  a = await fillStudio(service, service.admin, 'Own');
  const other = await studioOn(service.app, { studioName: `${CANARY} studio`, domain: `${CANARY}.example`, personName: CANARY });
  b = await fillStudio({ ...other, app: service.app }, service.admin, CANARY);
  seatOfA = (await seatAtWork(a, 'Own second student')).by;
  routes = describedRoutes(service.app).filter((route) => !['GET /api/live', 'POST /api/sign-out', 'POST /api/seat/sign-out'].includes(routeName(route)));
});
afterAll(() => service.close());

const idsOf = (studio: FullStudio, draft = false): Ids => ({
  recipe: studio.room.recipeId,
  fat: studio.fatId,
  version: studio.room.versionId,
  class: draft ? studio.draftClassId : studio.room.classId,
  card: studio.room.benches[1]!.card.id,
  seat: studio.seat.id,
  checkOut: studio.openCheckOutId,
  jar: studio.jarId,
  note: studio.noteId,
  picture: studio.pictureId,
  followUp: studio.followUpId,
  change: studio.changeId,
  person: studio.ids.instructor,
  lot: studio.room.lotId,
  container: studio.room.containerIds[0]!,
  file: studio.fileId,
  scale: studio.scaleId,
  report: studio.reportId,
  request: studio.requestId,
  offer: studio.offerId,
  station: studio.stationId,
  reading: studio.readingId,
  stationCode: studio.room.benches[1]!.code,
  joinCode: studio.room.joinCode,
  returnCode: studio.returnCode,
});
const ofNowhere = (): Ids => {
  const keys = Object.keys(idsOf(a)) as (keyof Ids)[];
  return { ...(Object.fromEntries(keys.map((key) => [key, newId()])) as Ids), stationCode: 'ZZZZZZ', joinCode: 'ZZZZZZ', returnCode: 'ZZZZZZ' };
};
const send = (by: Caller, route: Route, ids: Ids, bodyIds = ids, more: object = {}) => {
  const body = bodyFor(route, bodyIds);
  const url =
    pathWith(route.path, ids) +
    (route.path === '/api/checkouts' && !body ? `?classId=${ids.class}` : '') +
    (route.path.startsWith('/api/note-status') ? `?code=${ids.joinCode}` : '');
  return service.app.inject({
    method: route.method,
    url,
    headers: { cookie: by.cookie, 'idempotency-key': newId() },
    remoteAddress: `10.9.${Math.floor(Math.random() * 250)}.${Math.floor(Math.random() * 250)}`,
    ...(body ? { payload: { ...body, ...more } } : {}),
  });
};
/** What a code opens is open to its holder, whoever else they are: its studio gave it out. */
const BY_CODE = [
  'GET /api/join/{code}',
  'POST /api/join',
  'POST /api/notes/anonymous',
  'GET /api/note-place/{code}',
  'GET /api/note-status/{returnCode}',
  'POST /api/note-status/{returnCode}/answers',
  'POST /api/notes/anonymous/pictures',
  'POST /api/setup',
  'POST /api/sign-in',
];
const callersOfA = (): [string, Caller][] => [
  ...(['owner', 'manager', 'instructor', 'assistant'] as const).map((role): [string, Caller] => [role, a.as[role]]),
  ['seat', seatOfA],
  ['both', { ...seatOfA, cookie: `${a.as.owner.cookie}; ${seatOfA.cookie}` }],
];
const rowsOf = async (studioId: string) => (await dump(service.admin)).filter((row) => row.includes(studioId));

test('the other studio has rows in every table, and its words are marked', async () => {
  const rows = await rowsOf(b.studioId);
  const tables = new Set(rows.map((row) => row.split(' ')[0]));
  const all = await service.admin.query(
    `SELECT 1 FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname NOT LIKE '\\_prisma%'`,
  );
  expect(tables.size).toBe(all.rowCount);
  expect(rows.filter((row) => row.includes(CANARY)).length).toBeGreaterThan(20);
});

test('with the ids of another studio no route answers anybody of this one, and nothing over there changes', async () => {
  const before = await rowsOf(b.studioId);
  for (const draft of [false, true])
    for (const route of routes.filter((each) => !BY_CODE.includes(routeName(each))))
      for (const [who, by] of callersOfA()) {
        const answer = await send(by, route, idsOf(b, draft));
        const told = `${who} ${routeName(route)} ${answer.statusCode} ${answer.body.slice(0, 300)}`;
        if (route.path.includes('{')) expect([401, 403, 404], told).toContain(answer.statusCode);
        expect(answer.statusCode, told).toBeLessThan(500);
        expect(answer.body.includes(CANARY) || answer.body.includes(b.studioId), told).toBe(false);
      }
  expect(await rowsOf(b.studioId)).toEqual(before);
  const rows = await rowsOf(a.studioId);
  const foreign = Object.values(idsOf(b)).filter((id) => rows.some((row) => row.includes(id) && !row.startsWith('idempotency')));
  expect(foreign, 'no row of this studio names a thing of the other').toEqual([]);
});

test('ids of another studio in the body of one’s own thing are refused like ids of nowhere', async () => {
  const mixed = routes.filter((route) => route.method !== 'GET' && !BY_CODE.includes(routeName(route)));
  for (const route of mixed) {
    const names = JSON.stringify(bodyFor(route, idsOf(b)));
    if (!Object.values(idsOf(b)).some((id) => names.includes(id))) continue;
    const status = async (bodyIds: Ids) => {
      const answer = await send(route.path.startsWith('/api/cards') || route.path === '/api/jars' ? seatOfA : a.as.owner, route, idsOf(a, true), bodyIds);
      return [answer.statusCode, answer.json<{ code?: string }>().code];
    };
    const refused = await status(idsOf(b));
    expect([routeName(route), refused[0]]).not.toEqual([routeName(route), 200]);
    expect([routeName(route), ...refused]).toEqual([routeName(route), ...(await status(ofNowhere()))]);
  }
});

test('ids of nowhere are a 404 for whoever may ask at all', async () => {
  for (const route of routes.filter((each) => each.path.includes('{'))) {
    const answers = await Promise.all(callersOfA().map(([, by]) => send(by, route, ofNowhere(), idsOf(a))));
    const statuses = answers.map((answer) => answer.statusCode);
    expect(statuses, routeName(route)).toContain(404);
    expect(
      statuses.filter((status) => ![401, 403, 404].includes(status)),
      routeName(route),
    ).toEqual([]);
  }
});

test('a studio’s name in body, query or header moves nothing: the row lands at home or nowhere', async () => {
  const before = await rowsOf(b.studioId);
  for (const route of routes.filter((each) => !BY_CODE.includes(routeName(each)))) {
    const names = { studioId: b.studioId, studio_id: b.studioId, tenant: b.studioId, studio: { id: b.studioId } };
    const answer = await send(a.as.owner, route, idsOf(a, true), idsOf(a), names);
    expect(answer.statusCode, `${routeName(route)} ${answer.body}`).toBeLessThan(500);
    expect(answer.body.includes(CANARY) || answer.body.includes(b.studioId), routeName(route)).toBe(false);
    if (route.method !== 'GET') continue;
    const listed = await service.app.inject({
      method: 'GET',
      url: `${pathWith(route.path, idsOf(a))}?studioId=${b.studioId}`,
      headers: { cookie: a.as.owner.cookie, 'x-studio-id': b.studioId, 'ashwater.studio_id': b.studioId },
    });
    expect(listed.body.includes(CANARY), routeName(route)).toBe(false);
  }
  expect(await rowsOf(b.studioId)).toEqual(before);
});

test('a cookie with the other studio’s id before one’s own secret opens nothing', async () => {
  for (const [name, cookie] of [
    ['session', a.as.owner.cookie],
    ['seat', seatOfA.cookie],
  ] as const) {
    const moved = cookie.replace(a.studioId, b.studioId);
    expect(moved).not.toBe(cookie);
    const answer = await service.app.inject({ method: 'GET', url: name === 'seat' ? '/api/station' : '/api/recipes', headers: { cookie: moved } });
    expect([name, answer.statusCode]).toEqual([name, 401]);
  }
});

test('the same names, numbers, addresses and labels can be used here too: nothing tells that they exist over there', async () => {
  const reuse: [string, object][] = [
    ['/api/stations', { id: newId(), name: b.room.benches[0]!.name, scaleStep: '1', scaleCapacity: '5000', mouldName: 'Loaf', mouldVolumeMl: '1100' }],
    ['/api/people', { id: newId(), name: 'x', email: `manager@${CANARY}.example`, role: 'assistant', password: 'four quiet green kettles' }],
    [
      '/api/lots',
      {
        id: newId(),
        substance: 'KOH',
        supplier: `${CANARY} supplier`,
        lotNumber: `${CANARY} lot`,
        purityPercent: '90',
        purityUncertaintyPercent: '1',
        sdsLink: 'https://example.org',
        sdsRevisedOn: null,
        scaleStep: '1',
        containers: [{ id: newId(), label: `${CANARY} bottle`, gross: '1250', tare: '250' }],
      },
    ],
    // even the very same ids
    ['/api/recipes', { id: b.room.recipeId, draft: { ...(bodyFor({ method: 'POST', path: '/api/recipes' }, idsOf(a)) as { draft: object }).draft } }],
  ];
  const before = await rowsOf(b.studioId);
  for (const [url, body] of reuse) expect([url, (await a.as.owner.post(url, body)).statusCode]).toEqual([url, 200]);
  expect(await rowsOf(b.studioId)).toEqual(before);
});

test('nobody without a cookie gets past the door of any route but the public ones', async () => {
  const open = [...BY_CODE, 'GET /api/setup', 'GET /api/me', 'GET /api/bench'];
  for (const route of routes) {
    const answer = await send(a.as.nobody, route, idsOf(b));
    if (!open.includes(routeName(route))) expect([routeName(route), answer.statusCode]).toEqual([routeName(route), 401]);
  }
  for (const url of ['/api/openapi.json', '/api/docs', '/api/docs/json', '/api/docs/static/index.html', '/api/live'])
    expect([url, (await a.as.nobody.get(url)).statusCode]).toEqual([url, 401]);
});
