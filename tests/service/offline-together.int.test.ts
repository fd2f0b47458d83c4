import type { StationView } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../apps/api/src/ids.ts';
import { firstCaustic, workTo } from '../../apps/api/src/testing/card-steps.ts';
import { classroom, signOff, takeSeat } from '../../apps/api/src/testing/classroom.ts';
import type { Bench, SeatAt } from '../../apps/api/src/testing/classroom.ts';
import { handClock } from '../../apps/api/src/testing/clock.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { TestStudio } from '../../apps/api/src/testing/test-studio.ts';
import { requestOf } from '../../apps/web/src/lib/offline/act.ts';
import type { Act, Deed } from '../../apps/web/src/lib/offline/act.ts';
import { drain } from '../../apps/web/src/lib/offline/drain.ts';
import type { Answer } from '../../apps/web/src/lib/offline/drain.ts';

/*
 * 24 stations without network for half an hour by the clock, then all back at once over a link that loses answers, delays,
 * delivers twice, and delivers an old try after newer ones. The devices' own code queues and drains; only the link is ours.
 */
const STATIONS = 24;
const AWAY_MINUTES = 30;
/** Signed off so long before that it runs out while the station is away; the studio's limit is 120 minutes. */
const SIGNED_BEFORE_MINUTES = 100;
const DRAINED_MS = 30_000;

const clock = handClock();
let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
});
afterAll(() => studio.close());

type Device = { seat: SeatAt; acts: Act[] };
const deviceOf = (seat: SeatAt, deeds: Deed[]): Device => {
  const who = { seatId: seat.id, seatName: seat.name, stationName: seat.bench.name, classId: seat.bench.classId, at: clock.read().toISOString(), words: '' };
  return { seat, acts: deeds.map((deed, i): Act => ({ ...who, id: newId(), deed, seq: i + 1, state: 'waiting', refusal: null })) };
};

/** The steps before the lye, a weighing at each; one of them off target first. */
function halfAnHour(seat: SeatAt): Deed[] {
  const { card } = seat.bench;
  return card.content.steps.slice(0, 3).flatMap((step): Deed[] => {
    const reading = (entered: string): Deed => ({ kind: 'reading', cardId: card.id, stepNo: step.no, entered, supersedesId: null });
    return [...(step.kind === 'weigh' ? [reading(String(step.targetMg! / 1000))] : []), { kind: 'done', cardId: card.id, stepNo: step.no }];
  });
}

/** A seeded generator (mulberry32), so that a bad link is the same one again. */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

type Faults = { lost: number; twice: number; late: number };
/** Drains a device over a bad link until nothing waits. `keepIds` false is the control: a new id for every try. */
async function comeBack({ seat, acts }: Device, seed: number, faults: Faults, keepIds = true): Promise<void> {
  const random = randomFrom(seed);
  const late: (() => Promise<unknown>)[] = [];
  const outbox = {
    all: async () => structuredClone(acts),
    mark: async (seq: number, state: Act['state'], refusal: Act['refusal']) =>
      void Object.assign(
        acts.find((act) => act.seq === seq)!,
        { state, refusal },
      ),
  };
  const send = async (act: Act): Promise<Answer> => {
    const tried = keepIds ? act : { ...act, id: newId() };
    const { path, body } = requestOf(tried);
    const post = () => seat.by.post(path, body, tried.id);
    await new Promise((resolve) => setTimeout(resolve, random() * 20));
    // A copy that lay somewhere on its way comes out after later acts.
    if (random() < 0.2) {
      faults.late += 1;
      late.push(post);
    }
    if (late.length > 0 && random() < 0.3) await late.shift()!();
    const twice = random() < 0.2;
    if (twice) faults.twice += 1;
    const [answer] = await Promise.all(twice ? [post(), post()] : [post()]);
    if (random() < 0.25) {
      faults.lost += 1;
      return { kind: 'none' };
    }
    if (answer!.statusCode === 200) return { kind: 'taken' };
    const { code, title, detail } = answer!.json<{ code: string; title: string; detail: string }>();
    return answer!.statusCode >= 500 ? { kind: 'none' } : { kind: 'refused', refusal: { code, title, detail } };
  };
  while ((await drain(outbox, seat.id, send)).end !== 'quiet');
  for (const post of late) await post();
}

const wholeAndOnce = async ({ seat, acts }: Device): Promise<boolean> => {
  const view = (await seat.by.get('/api/station')).json<StationView>();
  const ids = acts.flatMap((act) => (act.deed.kind === 'reading' ? [act.id] : []));
  return (
    acts.every((act) => act.state === 'sent') &&
    view.readings.map(({ id }) => id).join() === ids.join() &&
    view.done.map(({ stepNo }) => stepNo).join() === '1,2,3'
  );
};
const room24 = async (title: string): Promise<Bench[]> => (await classroom(studio, { stations: STATIONS, title, name: title })).benches;

test('24 stations come back after half an hour: nothing lost, nothing twice, each in its order', { timeout: 60_000 }, async () => {
  const devices: Device[] = [];
  for (const bench of await room24('Away')) {
    const seat = await takeSeat(studio, bench, bench.name);
    devices.push(deviceOf(seat, halfAnHour(seat)));
  }
  clock.forward(AWAY_MINUTES);
  const faults = { lost: 0, twice: 0, late: 0 };
  const began = performance.now();
  await Promise.all(devices.map((device, n) => comeBack(device, n + 1, faults)));
  const tookMs = performance.now() - began;
  expect(await Promise.all(devices.map(wholeAndOnce))).toEqual(Array(STATIONS).fill(true));
  expect(tookMs).toBeLessThan(DRAINED_MS);
  for (const [fault, times] of Object.entries(faults)) expect(times, `the link ${fault === 'lost' ? 'lost answers' : `delivered ${fault}`}`).toBeGreaterThan(5);
});

test('the control: with a new id for every try acts are done twice or out of turn', { timeout: 60_000 }, async () => {
  const devices: Device[] = [];
  for (const bench of await room24('Control')) {
    const seat = await takeSeat(studio, bench, bench.name);
    devices.push(deviceOf(seat, halfAnHour(seat)));
  }
  const faults = { lost: 0, twice: 0, late: 0 };
  await Promise.all(devices.map((device, n) => comeBack(device, n + 1, faults, false)));
  const sound = (await Promise.all(devices.map(wholeAndOnce))).filter(Boolean).length;
  expect(sound).toBeLessThan(STATIONS / 2);
});

test('a sign-off that ran out while the station was away is told: the caustic weighing is refused, kept, and nothing later of the card is tried', async () => {
  const [bench] = await room24('Stale');
  const seat = await takeSeat(studio, bench!, 'Ola');
  const step = firstCaustic(seat);
  await workTo(seat, step.no);
  await signOff(studio, seat);
  clock.forward(SIGNED_BEFORE_MINUTES);
  const device = deviceOf(seat, [
    { kind: 'reading', cardId: bench!.card.id, stepNo: step.no, entered: String((step.targetMg ?? 0) / 1000), supersedesId: null },
    { kind: 'done', cardId: bench!.card.id, stepNo: step.no },
    { kind: 'note', told: { kind: 'near miss', place: '', stepTitle: '', what: 'A lid stuck', whatStoppedIt: '', doneAtOnce: '' } },
  ]);
  clock.forward(AWAY_MINUTES);
  const before = (await seat.by.get('/api/station')).json<StationView>();
  await comeBack(device, 7, { lost: 0, twice: 0, late: 0 });
  const after = (await seat.by.get('/api/station')).json<StationView>();
  expect(device.acts.map(({ state, refusal }) => [state, refusal?.code ?? null])).toEqual([
    ['refused', 'gear-not-signed'],
    ['waiting', null],
    ['sent', null],
  ]);
  expect([after.readings, after.done]).toEqual([before.readings, before.done]);
});
