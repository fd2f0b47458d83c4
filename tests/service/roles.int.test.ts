import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildApp } from '../../apps/api/src/app.ts';
import { readConfig } from '../../apps/api/src/config.ts';
import { newId } from '../../apps/api/src/ids.ts';
import { classroom, takeSeat } from '../../apps/api/src/testing/classroom.ts';
import { describedRoutes, routeName } from '../../apps/api/src/testing/every-route.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { Caller, TestStudio } from '../../apps/api/src/testing/test-studio.ts';

// Who may call what, told here once more and not read from the code. O owner, M manager, I instructor, A assistant, S seat; P anybody.
const MAY: Record<string, string> = {
  'GET /api/setup': 'P',
  'POST /api/setup': 'P',
  'POST /api/sign-in': 'P',
  'GET /api/me': 'P',
  'GET /api/join/{code}': 'P',
  'POST /api/join': 'P',
  'POST /api/notes/anonymous': 'P',
  'GET /api/note-place/{code}': 'P',
  'GET /api/note-status/{returnCode}': 'P',
  'POST /api/note-status/{returnCode}/answers': 'P',
  'POST /api/notes/anonymous/pictures': 'P',
  'GET /livez': 'P',
  'GET /readyz': 'P',
  'POST /api/sign-out': 'OMIA',
  'GET /api/people': 'OM',
  'POST /api/people': 'O',
  'GET /api/recipes': 'OMIA',
  'POST /api/recipes': 'OI',
  'GET /api/recipes/{id}': 'OMIA',
  'PUT /api/recipes/{id}': 'OI',
  'POST /api/recipes/{id}/versions': 'OI',
  'GET /api/recipe-versions/{id}': 'OMIA',
  'GET /api/fats': 'OMIA',
  'POST /api/fats': 'OI',
  'POST /api/fats/{id}/retire': 'OI',
  'GET /api/stations': 'OMIA',
  'POST /api/stations': 'OMI',
  'GET /api/stations/{id}': 'OMIA',
  'PUT /api/stations/{id}': 'OMI',
  'POST /api/stations/{id}/check-weighings': 'OMI',
  'GET /api/classes': 'OMIA',
  'POST /api/classes': 'OI',
  'GET /api/classes/{id}': 'OMIA',
  'PUT /api/classes/{id}': 'OI',
  'POST /api/classes/{id}/publish': 'OI',
  'POST /api/classes/{id}/close': 'OI',
  'POST /api/classes/{id}/amend': 'OI',
  'POST /api/classes/{id}/checks': 'OMIA',
  'POST /api/classes/{id}/cancel': 'OI',
  'POST /api/classes/{id}/move': 'OI',
  'POST /api/classes/{id}/copy': 'OI',
  'GET /api/classes/{id}/cards': 'OMIA',
  'GET /api/classes/{id}/floor': 'OMIA',
  'GET /api/classes/{id}/prints/cards.pdf': 'OMIA',
  'GET /api/classes/{id}/prints/class-sheet.pdf': 'OMIA',
  'GET /api/classes/{id}/prints/gear.pdf': 'OMIA',
  'GET /api/classes/{id}/prints/pull-list.pdf': 'OMIA',
  'GET /api/classes/{id}/prints/pull-list.csv': 'OMIA',
  'GET /api/classes/{id}/prints/first-aid.pdf': 'OMIA',
  'GET /api/classes/{id}/prints/labels.pdf': 'OMIA',
  'GET /api/prints/calibration.pdf': 'OMIA',
  'GET /api/prints/cabinet.pdf': 'OM',
  'POST /api/classes/{id}/stop': 'OMIAS',
  'POST /api/classes/{id}/clear': 'OI',
  'GET /api/station': 'S',
  'GET /api/cards/{id}': 'OMIA',
  'POST /api/cards/{id}/readings': 'S',
  'POST /api/cards/{id}/steps/{stepNo}/done': 'S',
  'GET /api/cards/{id}/proposal': 'OMIAS',
  'POST /api/cards/{id}/changes': 'OI',
  'POST /api/readings/{id}/check': 'S',
  'POST /api/readings/{id}/staff-check': 'OMIA',
  'POST /api/cards/{id}/paper': 'OMIA',
  'POST /api/jars/from-paper': 'OMIA',
  'POST /api/gear/lapse': 'S',
  'POST /api/gear/visitors': 'S',
  'POST /api/gear/visitors/{id}/left': 'S',
  'POST /api/gear/visitors/{id}/confirm': 'S',
  'POST /api/classes/{id}/people': 'OMIA',
  'POST /api/classes/{id}/messages': 'OMIA',
  'POST /api/seats/{id}/confirm': 'OMIA',
  'POST /api/seats/{id}/sign-out': 'OMIA',
  'POST /api/seats/{id}/move': 'OMIA',
  'GET /api/bench': 'P',
  'POST /api/stations/{id}/bind': 'OMI',
  'POST /api/stations/{id}/release': 'OMI',
  'POST /api/gear/confirm': 'S',
  'POST /api/seat/sign-out': 'S',
  'POST /api/seats/{id}/countersign': 'OMIA',
  'POST /api/seats/{id}/lapse': 'OMIA',
  'GET /api/cabinet': 'OMIA',
  'POST /api/lots': 'OM',
  'GET /api/lots/{id}': 'OMIA',
  'POST /api/lots/{id}/papers': 'OM',
  'GET /api/lots/{id}/prints/labels.pdf': 'OMIA',
  'POST /api/stock-files': 'OM',
  'GET /api/stock-files/{id}': 'OMIA',
  'GET /api/containers/{id}': 'OMIA',
  'POST /api/containers/{id}/acts': 'OM',
  'POST /api/containers/{id}/transfers': 'OM',
  'POST /api/containers/{id}/uptakes': 'OM',
  'GET /api/checkouts': 'OMIA',
  'POST /api/checkouts': 'OM',
  'POST /api/checkouts/{id}/return': 'OM',
  'GET /api/scales': 'OM',
  'POST /api/scales': 'OM',
  'POST /api/scales/{id}/retire': 'OM',
  'POST /api/scales/{id}/checks': 'OM',
  'GET /api/stock-settings': 'OM',
  'PUT /api/stock-settings': 'OM',
  'GET /api/class-differences': 'OM',
  'POST /api/classes/{id}/differences': 'OM',
  'GET /api/count-sheet': 'OM',
  'POST /api/counts': 'OM',
  'GET /api/counts': 'OM',
  'GET /api/ledger': 'OM',
  'GET /api/ledger/check': 'OM',
  'GET /api/stock-charts': 'OM',
  'GET /api/balance-reports': 'OM',
  'POST /api/balance-reports': 'OM',
  'GET /api/balance-reports/{id}': 'OM',
  'POST /api/balance-reports/{id}/sign': 'OM',
  'GET /api/lots.csv': 'OM',
  'POST /api/lots/import': 'OM',
  'GET /api/stock-requests': 'OM',
  'POST /api/stock-requests/reversal': 'OM',
  'POST /api/stock-requests/correction': 'OM',
  'POST /api/stock-requests/write-off': 'OM',
  'POST /api/stock-requests/disposal': 'OM',
  'POST /api/stock-requests/{id}/decide': 'OM',
  'GET /api/stock-plan': 'OM',
  'POST /api/supplier-offers': 'OM',
  'POST /api/supplier-offers/{id}/retire': 'OM',
  'GET /api/jars': 'OMIA',
  'POST /api/jars': 'S',
  'POST /api/jars/{id}/discard': 'OM',
  'GET /api/jars/{id}': 'OMIA',
  'POST /api/jars/{id}/acts': 'OM',
  'POST /api/notes': 'OMIAS',
  'GET /api/notes': 'OM',
  'GET /api/notes/{id}': 'OM',
  'POST /api/notes/{id}/reviews': 'OM',
  'GET /api/my-notes': 'OMIAS',
  'POST /api/notes/{id}/amendments': 'OMIAS',
  'POST /api/notes/{id}/pictures': 'OMIAS',
  'POST /api/notes/{id}/triage': 'OM',
  'POST /api/notes/{id}/merge': 'OM',
  'POST /api/notes/{id}/writer': 'OM',
  'GET /api/note-pictures/{id}': 'OM',
  'GET /api/follow-ups': 'OMIA',
  'POST /api/follow-ups': 'OM',
  'POST /api/follow-ups/{id}/acts': 'OMIA',
  'POST /api/follow-ups/{id}/changes': 'OM',
  'GET /api/note-changes': 'OMIA',
  'POST /api/note-changes/{id}/end': 'OM',
  'GET /api/note-month': 'OM',
  'PUT /api/staff-hours': 'OM',
  'POST /api/note-export': 'OM',
  'GET /api/note-settings': 'OM',
  'PUT /api/note-settings': 'OM',
  'POST /api/note-settings/wall-code': 'OM',
  'POST /api/note-settings/blank': 'OM',
  'GET /api/live': 'OMIAS',
  'GET /api/audit': 'OM',
  'GET /api/openapi.json': 'OMIA',
  'GET /api/docs': 'OMIA',
};
/** Routes that the description leaves out on purpose. */
const UNDESCRIBED = ['GET /livez', 'GET /readyz', 'GET /api/openapi.json', 'GET /api/docs'];

let studio: TestStudio;
let seat: Caller;
beforeAll(async () => {
  studio = await testStudio();
  seat = (await takeSeat(studio, (await classroom(studio)).benches[0]!)).by;
});
afterAll(() => studio.close());

/** Asked so that nothing can come of it: ids of nowhere, a body that is none, no key. Access is judged before any of them. */
async function answerTo(name: string, cookie: string): Promise<{ status: number; code: string }> {
  const [method, path] = name.split(' ') as ['GET' | 'POST' | 'PUT', string];
  const url =
    path
      .replace(/\{id\}/, newId())
      .replace('{stepNo}', '1')
      .replace(/\{\w+\}/, 'ZZZZZZ') + (path === '/api/live' ? '?classId=none' : '');
  const answer = await studio.app.inject({ method, url, headers: { cookie }, ...(method === 'GET' ? {} : { payload: [] }) });
  return { status: answer.statusCode, code: answer.headers['content-type']?.includes('problem') ? answer.json<{ code: string }>().code : '' };
}

test('the list names every route there is, and no other', () => {
  const described = describedRoutes(studio.app).map(routeName);
  expect([...described, ...UNDESCRIBED].sort()).toEqual(Object.keys(MAY).sort());
});

test.each(Object.entries(MAY))('%s: %s', async (name, may) => {
  const callers = { O: studio.as.owner, M: studio.as.manager, I: studio.as.instructor, A: studio.as.assistant, S: seat, '-': studio.as.nobody };
  for (const [letter, caller] of Object.entries(callers)) {
    // Signing out would end the session that the next line needs: refused callers only.
    if (name === 'POST /api/sign-out' && may.includes(letter)) continue;
    if (name === 'POST /api/seat/sign-out' && letter === 'S') continue;
    const { status, code } = await answerTo(name, caller.cookie);
    if (may === 'P' || may.includes(letter)) {
      expect([name, letter, [401, 403].includes(status) ? code : 'let in']).toEqual([name, letter, 'let in']);
    } else if (letter in { O: 1, M: 1, I: 1, A: 1 } && may !== 'S') {
      expect([name, letter, status, code]).toEqual([name, letter, 403, 'not-allowed']);
    } else {
      expect([name, letter, status, code]).toEqual([name, letter, 401, /[OMIA]/.test(may) ? 'sign-in-needed' : 'seat-needed']);
    }
  }
});

test('each is let in where the list says so, also for leaving', async () => {
  expect((await studio.as.assistant.post('/api/sign-out', {})).statusCode).toBe(200);
  expect((await answerTo('GET /api/recipes', studio.as.assistant.cookie)).status).toBe(401);
  expect((await seat.post('/api/seat/sign-out', {})).statusCode).toBe(200);
});

test('an address that is none is a 404 for everybody, and names nobody', async () => {
  for (const url of ['/api/none', '/api', '/api/recipes/x/y/z', '/%'])
    for (const cookie of ['', studio.as.owner.cookie]) {
      const answer = await studio.app.inject({ method: 'GET', url, headers: { cookie } });
      expect([url, answer.statusCode < 500 && answer.statusCode >= 400, answer.headers['content-type']]).toEqual([
        url,
        true,
        expect.stringContaining('problem+json'),
      ]);
    }
});

test('a route that does not say who may call it stops the start, and is named', async () => {
  const app = await buildApp(readConfig({ DATABASE_APP_URL: studio.database.appUrl, LOG_LEVEL: 'silent' }));
  app.get('/api/forgotten', async () => 'open to all');
  await expect(app.ready()).rejects.toThrow(/do not say who may call them: .*GET \/api\/forgotten/);
  await app.close().catch(() => undefined);
});
