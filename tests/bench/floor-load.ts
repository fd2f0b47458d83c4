/*
 * How long 24 stations wait when all of them work at once: opening the weigh card and recording a reading, p50 and p99,
 * through the API and, for the card, through the page as a phone gets it.
 *   node_modules/.bin/node tests/bench/floor-load.ts http://127.0.0.1:4310      (a running demo; it adds a class of its own)
 */
import { randomUUID } from 'node:crypto';
import type { ClassOut, Recipes, ReadingOut, StationView } from '@ashwater/contracts';
import { DEMO_SIGN_INS } from '../../apps/api/src/demo/sign-ins.ts';
import { newId } from '../../apps/api/src/ids.ts';

const STATIONS = 24;
const OPENINGS = 20;
const base = process.argv[2] ?? process.env.ASHWATER_URL ?? 'http://127.0.0.1:4310';

type Browser = {
  get<T>(path: string): Promise<T>;
  post<T>(path: string, body?: object): Promise<T>;
  page(path: string): Promise<string>;
  listen(path: string, heard: (data: string) => void): Promise<() => void>;
};

function browser(): Browser {
  let cookie = '';
  const ask = async (method: string, path: string, body?: object): Promise<Response> => {
    const headers: Record<string, string> = { cookie, ...(method === 'POST' ? { 'idempotency-key': randomUUID(), 'content-type': 'application/json' } : {}) };
    const answer = await fetch(base + path, { method, headers, ...(body ? { body: JSON.stringify(body) } : {}) });
    const set = answer.headers.getSetCookie()[0]?.split(';')[0];
    if (set) cookie = set;
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    return answer;
  };
  return {
    get: async <T>(path: string) => (await (await ask('GET', path)).json()) as T,
    post: async <T>(path: string, body: object = {}) => (await (await ask('POST', path, body)).json()) as T,
    page: async (path) => (await ask('GET', path)).text(),
    listen: async (path, heard) => {
      const stop = new AbortController();
      const { body } = await fetch(base + path, { headers: { cookie, accept: 'text/event-stream' }, signal: stop.signal });
      void readLines(body!, (line) => line.startsWith('data:') && heard(line.slice(5))).catch(() => undefined);
      return () => stop.abort();
    },
  };
}

async function readLines(body: ReadableStream<Uint8Array>, line: (text: string) => void): Promise<void> {
  let rest = '';
  for await (const part of body.pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>)) {
    const lines = (rest + part).split('\n');
    rest = lines.pop() ?? '';
    lines.forEach(line);
  }
}

function report(what: string, times: number[]): void {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!.toFixed(0);
  console.log(
    `${what.padEnd(44)} n ${String(sorted.length).padStart(5)}   p50 ${at(0.5).padStart(4)} ms   p99 ${at(0.99).padStart(4)} ms   max ${at(1).padStart(4)} ms`,
  );
}

async function timed<T>(into: number[], work: () => Promise<T>): Promise<T> {
  const start = performance.now();
  const value = await work();
  into.push(performance.now() - start);
  return value;
}

async function classOf24(instructor: Browser): Promise<ClassOut> {
  const { email, password } = DEMO_SIGN_INS.find((person) => person.role === 'instructor')!;
  await instructor.post('/api/sign-in', { email, password });
  const { recipes } = await instructor.get<Recipes>('/api/recipes');
  const version = recipes.find((recipe) => recipe.title.startsWith('First bar'))!.versions[0]!;
  const setUp = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf', mouldVolumeMl: '1100' };
  const mark = newId().slice(-6);
  const stations = [];
  for (let n = 1; n <= STATIONS; n += 1) {
    const stationId = newId();
    await instructor.post('/api/stations', { id: stationId, name: `Load ${mark} ${n}`, ...setUp });
    stations.push({ id: newId(), stationId, ...setUp });
  }
  const id = newId();
  await instructor.post('/api/classes', {
    id,
    title: `Load ${mark}`,
    startsAt: new Date().toISOString(),
    room: 'Bench',
    recipeVersionId: version.id,
    naohLotId: null,
    kohLotId: null,
    stations,
  });
  const start = performance.now();
  await instructor.post(`/api/classes/${id}/publish`);
  console.log(`${STATIONS} cards computed and issued in one request: ${(performance.now() - start).toFixed(0)} ms`);
  return instructor.get<ClassOut>(`/api/classes/${id}`);
}

const instructor = browser();
const room = await classOf24(instructor);
const seats = await Promise.all(
  room.stations.map(async (station, n) => {
    const seat = browser();
    await seat.post('/api/join', { id: newId(), code: station.joinCode, name: `Student ${n + 1}` });
    return seat;
  }),
);
const opening: number[] = [];
const pageOpening: number[] = [];
for (let round = 0; round < OPENINGS; round += 1) await Promise.all(seats.map((seat) => timed(opening, () => seat.get<StationView>('/api/station'))));
for (let round = 0; round < OPENINGS; round += 1) await Promise.all(seats.map((seat) => timed(pageOpening, () => seat.page('/station'))));
report('open a weigh card (API)', opening);
report('open a weigh card (page, rendered)', pageOpening);

// From the moment a student sends a reading to the moment the floor's live stream tells of it.
const sentAt = new Map<string, number>();
const heard: number[] = [];
const hangUp = await instructor.listen(`/api/live?classId=${room.id}`, (data) => {
  const { subjectId } = JSON.parse(data) as { subjectId?: string };
  const sent = subjectId === undefined ? undefined : sentAt.get(subjectId);
  if (sent !== undefined) heard.push(performance.now() - sent);
});
const reading: number[] = [];
await Promise.all(
  seats.map(async (seat) => {
    const { card } = await seat.get<StationView>('/api/station');
    const weighing = card.content.steps.filter((step) => !step.caustic);
    for (const step of weighing) {
      if (step.kind === 'weigh') {
        // Four readings a step: three off target, each superseding the one before, then the right one.
        let supersedesId: string | null = null;
        for (const entered of ['1', '2', '3', String(step.targetMg! / 1000)]) {
          const id: string = newId();
          sentAt.set(id, performance.now());
          await timed(reading, () => seat.post<ReadingOut>(`/api/cards/${card.id}/readings`, { id, stepNo: step.no, entered, supersedesId }));
          supersedesId = id;
        }
      }
      await seat.post(`/api/cards/${card.id}/steps/${step.no}/done`);
    }
  }),
);
report('record a reading (API)', reading);
await new Promise((resolve) => setTimeout(resolve, 1_000));
hangUp();
report('from a reading to the floor (live stream)', heard);
if (heard.length !== sentAt.size) throw new Error(`The floor heard of ${heard.length} of ${sentAt.size} readings.`);
