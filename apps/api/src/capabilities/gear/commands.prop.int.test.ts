import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { firstCaustic, goodEntry, workTo } from '../../testing/card-steps.ts';
import { classroom, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom, SeatAt } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import type { HandClock } from '../../testing/clock.ts';
import { endSignOff, finishStep, mayAct, mayFinish, passTime, sign } from '../../testing/station-model.ts';
import type { StationModel } from '../../testing/station-model.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Answer, Caller, TestStudio } from '../../testing/test-studio.ts';

const RUNS = 25;
const clock: HandClock = handClock();
let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: RUNS });
});
afterAll(() => studio.close());

type Command =
  | { kind: 'confirm-all' | 'confirm-one' | 'countersign' | 'sign-off' | 'lapse' | 'sign-out' | 'done' | 'jar' | 'proceed'; who: number; ahead: number }
  | { kind: 'reading'; who: number; ahead: number; off: boolean }
  | { kind: 'stop' }
  | { kind: 'clear' }
  | { kind: 'join' }
  | { kind: 'time'; minutes: number }
  | { kind: 'again'; which: number };
const who = fc.nat({ max: 2 });
// Mostly the step whose turn it is; now and then another.
const ahead = fc.constantFrom(0, 0, 0, 0, 0, 0, 0, 1, -1, 3);
type Acting = Exclude<Extract<Command, { ahead: number }>['kind'], 'reading'>;
const acting = (...kinds: Acting[]) => fc.record({ kind: fc.constantFrom(...kinds), who, ahead });
const command: fc.Arbitrary<Command> = fc.oneof(
  { weight: 8, arbitrary: acting('sign-off') },
  { weight: 4, arbitrary: acting('confirm-all', 'countersign', 'countersign', 'confirm-one') },
  { weight: 3, arbitrary: acting('lapse', 'lapse', 'sign-out') },
  { weight: 14, arbitrary: acting('proceed') },
  { weight: 8, arbitrary: fc.record({ kind: fc.constant('reading' as const), who, ahead, off: fc.constantFrom(false, true) }) },
  { weight: 10, arbitrary: acting('done', 'done', 'jar') },
  { weight: 4, arbitrary: fc.record({ kind: fc.constantFrom('stop' as const, 'clear' as const, 'clear' as const, 'join' as const) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('time' as const), minutes: fc.integer({ min: 1, max: 130 }) }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('again' as const), which: fc.nat({ max: 40 }) }) },
);

/** A request as sent: sending it again sends the same body with the same key. `judge` says whether it counts, and makes it so in the model. */
type Sent = { what: string; by: Caller; url: string; body: object; key: string; judge(): boolean; answer?: Answer };

class Station {
  readonly model: StationModel;
  readonly people: SeatAt[] = [];
  readonly sent: Sent[] = [];
  readonly bench: Bench;
  accepted = { reading: 0, done: 0, jar: 0 };
  constructor(bench: Bench) {
    this.bench = bench;
    this.model = {
      steps: bench.card.content.steps,
      items: bench.card.content.gear.map((item) => item.key),
      seats: [],
      stopped: false,
      doneCount: 0,
      standing: null,
      nowMs: clock.now.getTime(),
    };
  }
  async join(): Promise<void> {
    this.people.push(await takeSeat(studio, this.bench, `P${this.people.length}`));
    this.model.seats.push({ confirmed: new Set(), signedUntil: null, out: false });
  }
  async send(request: Sent): Promise<void> {
    const earlier = request.answer;
    const rightNow = request.judge;
    const answer = await request.by.post(request.url, request.body, request.key);
    if (earlier?.statusCode === 200) {
      // A repeat of what was done: the same answer, whatever the gate says now; the rows are counted at the end.
      expect([answer.statusCode, answer.json()], `repeat of ${request.what}`).toEqual([200, earlier.json()]);
      return;
    }
    expect(answer.statusCode === 200, `${request.what}: ${answer.body}\n${this.sent.map((each) => `${each.what} ${each.answer?.statusCode}`).join('\n')}`).toBe(
      rightNow(),
    );
    request.answer = answer;
    if (!this.sent.includes(request)) this.sent.push(request);
  }
  request(what: string, by: Caller, url: string, body: object, judge: () => boolean): Promise<void> {
    return this.send({ what, by, url, body, key: randomUUID(), judge });
  }
}

function act(station: Station, seatNo: number, command: Extract<Command, { ahead: number }>): Promise<void> {
  const { model, bench } = station;
  const { by } = station.people[seatNo]!;
  const seat = model.seats[seatNo]!;
  const step = model.steps[Math.min(model.steps.length - 1, Math.max(0, model.doneCount + command.ahead))]!;
  const card = `/api/cards/${bench.card.id}`;
  if (command.kind === 'reading') {
    const id = newId();
    const supersedesId = model.standing?.id ?? null;
    const takes = step.kind === 'weigh' || step.kind === 'temperature';
    return station.request(
      `reading at ${step.no}`,
      by,
      `${card}/readings`,
      { id, stepNo: step.no, entered: command.off ? '190' : goodEntry(step), supersedesId },
      () => {
        if (!mayAct(model, seat, step.no) || !takes || (model.standing?.id ?? null) !== supersedesId) return false;
        model.standing = { id, within: !command.off };
        station.accepted.reading += 1;
        return true;
      },
    );
  }
  if (command.kind === 'jar') {
    const label = model.steps.find((each) => each.kind === 'label')!;
    return station.request('jar', by, '/api/jars', { id: newId(), cardId: bench.card.id, mass: '100' }, () => {
      if (!mayAct(model, seat, label.no)) return false;
      finishStep(model);
      station.accepted.jar += 1;
      return true;
    });
  }
  return station.request(`done ${step.no}`, by, `${card}/steps/${step.no}/done`, {}, () => {
    if (!mayFinish(model, seat, step.no)) return false;
    finishStep(model);
    station.accepted.done += 1;
    return true;
  });
}

/** What a careful person sends next. */
function proceed(station: Station, seatNo: number): Promise<void> {
  const { model } = station;
  const kind = model.steps[model.doneCount]?.kind;
  const wants = (kind === 'weigh' || kind === 'temperature') && model.standing?.within !== true;
  return act(station, seatNo, wants ? { kind: 'reading', who: 0, ahead: 0, off: false } : { kind: kind === 'label' ? 'jar' : 'done', who: 0, ahead: 0 });
}

async function gear(station: Station, seatNo: number, kind: Command['kind']): Promise<void> {
  const { model } = station;
  const person = station.people[seatNo]!;
  const seat = model.seats[seatNo]!;
  const confirm = (itemKey: string) =>
    station.request(`${person.name} confirms ${itemKey}`, person.by, '/api/gear/confirm', { id: newId(), itemKey }, () => {
      if (!seat.out) seat.confirmed.add(itemKey);
      return !seat.out;
    });
  if (kind === 'confirm-one') return confirm(model.items[seatNo % model.items.length]!);
  if (kind === 'confirm-all' || kind === 'sign-off') {
    for (const item of model.items) if (!seat.confirmed.has(item)) await confirm(item);
    return kind === 'sign-off' ? gear(station, seatNo, 'countersign') : undefined;
  }
  if (kind === 'countersign')
    return station.request(`countersign ${person.name}`, studio.as.instructor, `/api/seats/${person.id}/countersign`, { id: newId() }, () => sign(model, seat));
  if (kind === 'sign-out')
    return station.request(`${person.name} leaves`, person.by, '/api/seat/sign-out', {}, () => {
      seat.out = true;
      return true;
    });
  return station.request(`lapse ${person.name}`, studio.as.assistant, `/api/seats/${person.id}/lapse`, { id: newId(), reason: 'glove' }, () => {
    endSignOff(seat);
    return true;
  });
}

async function obey(station: Station, command: Command): Promise<void> {
  const { model } = station;
  const room = (kind: 'stop' | 'clear', by: Caller, counts: () => boolean) =>
    station.request(kind, by, `/api/classes/${station.bench.classId}/${kind}`, { id: newId(), reason: '' }, () => {
      const does = counts();
      if (does) model.stopped = kind === 'stop';
      return does;
    });
  if (command.kind === 'join') return station.people.length < 5 ? station.join() : undefined;
  if (command.kind === 'stop') return room('stop', station.people[0]!.by, () => true);
  if (command.kind === 'clear') return room('clear', studio.as.owner, () => model.stopped);
  if (command.kind === 'time') {
    clock.forward(command.minutes);
    return passTime(model, command.minutes);
  }
  if (command.kind === 'again') return station.sent.length > 0 ? station.send(station.sent[command.which % station.sent.length]!) : undefined;
  const seatNo = command.who % station.people.length;
  if (command.kind === 'proceed') return proceed(station, seatNo);
  if (command.kind === 'reading' || command.kind === 'done' || command.kind === 'jar') return act(station, seatNo, command);
  return gear(station, seatNo, command.kind);
}

test(
  'whatever is sent, and sent again, an act counts exactly when the room runs, it is its step’s turn, and everybody there is signed off',
  { timeout: 120_000 },
  async () => {
    let run = 0;
    const total = { reading: 0, done: 0, jar: 0 };
    const play = async (commands: Command[]) => {
      const station = new Station(room.benches[run++]!);
      await station.join();
      const before = firstCaustic(station.people[0]!).no - 1;
      await workTo(station.people[0]!, before + 1);
      station.model.doneCount = before;
      for (const command of commands) await obey(station, command);
      if (station.model.stopped) await obey(station, { kind: 'clear' });
      const { id } = station.bench.card;
      const steps = await studio.admin.query<{ step_no: number }>('SELECT step_no FROM card_step WHERE card_id = $1 ORDER BY step_no', [id]);
      expect(
        steps.rows.map((row) => row.step_no),
        'no step is skipped, none is there twice',
      ).toEqual(Array.from({ length: station.model.doneCount }, (_, i) => i + 1));
      const readings = await studio.admin.query('SELECT 1 FROM reading WHERE card_id = $1 AND step_no > $2', [id, before]);
      expect(readings.rowCount, 'a repeated request leaves no second row').toBe(station.accepted.reading);
      for (const kind of ['reading', 'done', 'jar'] as const) total[kind] += station.accepted[kind];
    };
    await fc.assert(fc.asyncProperty(fc.array(command, { minLength: 40, maxLength: 40 }), play), { numRuns: RUNS, endOnFailure: true });
    // Said so that a gate that never opens could not pass.
    expect(Math.min(total.reading, total.done), JSON.stringify(total)).toBeGreaterThan(20);
  },
);
