import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { firstCaustic, goodEntry, workTo } from '../../testing/card-steps.ts';
import { classroom, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom, SeatAt } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import type { HandClock } from '../../testing/clock.ts';
import { command } from '../../testing/station-commands.ts';
import type { Command } from '../../testing/station-commands.ts';
import { endSignOff, finishStep, mayAct, mayCheck, mayFinish, newcomer, passTime, sign } from '../../testing/station-model.ts';
import type { ModelSeat, StationModel } from '../../testing/station-model.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { Answer, Caller, TestStudio } from '../../testing/test-studio.ts';

const RUNS = 25;
const clock: HandClock = handClock();
let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: RUNS + 1 });
});
afterAll(() => studio.close());

/** A request as sent: sending it again sends the same body with the same key. `judge` says whether it counts, and makes it so in the model. */
type Sent = { what: string; by: Caller; url: string; body: object; key: string; judge(): boolean; answer?: Answer };

class Station {
  readonly model: StationModel;
  readonly people: (SeatAt & { visits?: true })[] = [];
  readonly sent: Sent[] = [];
  readonly bench: Bench;
  readonly readingIds: string[] = [];
  accepted = { reading: 0, check: 0, done: 0, jar: 0 };
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
    this.model.seats.push(newcomer());
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
        model.standing = { id, within: !command.off, by: seat, second: null };
        station.readingIds.push(id);
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

/** A second reading of the standing reading, or of an older one. A seat that read first itself counts only with another's name. */
function check(station: Station, seatNo: number, command: Extract<Command, { kind: 'check' }>): Promise<void> {
  const { model } = station;
  const seat = model.seats[seatNo]!;
  const readingId = (command.old ? station.readingIds[0] : model.standing?.id) ?? newId();
  const entered = command.off ? '190' : goodEntry(model.steps[model.doneCount] ?? model.steps[0]!);
  const staff = command.as === 'staff';
  const by = staff ? studio.as.assistant : station.people[seatNo]!.by;
  const body = { id: newId(), entered, ...(command.as === 'helper' ? { byName: 'Bea' } : {}) };
  return station.request(`check by ${command.as}`, by, `/api/readings/${readingId}/${staff ? 'staff-check' : 'check'}`, body, () => {
    if (!mayCheck(model, staff ? null : seat, readingId) || (command.as === 'own seat' && model.standing!.by === seat)) return false;
    model.standing!.second = !command.off;
    station.accepted.check += 1;
    return true;
  });
}

/** What a careful person sends next. */
function proceed(station: Station, seatNo: number): Promise<void> {
  const { model } = station;
  const kind = model.steps[model.doneCount]?.kind;
  const wants = (kind === 'weigh' || kind === 'temperature') && (model.standing?.within !== true || model.standing.second === false);
  const lye = ['naoh', 'koh'].includes(model.steps[model.doneCount]?.lineKey ?? '');
  if (lye && !wants && model.standing?.second === null) return check(station, seatNo, { kind: 'check', who: 0, as: 'helper', off: false, old: false });
  return act(station, seatNo, wants ? { kind: 'reading', who: 0, ahead: 0, off: false } : { kind: kind === 'label' ? 'jar' : 'done', who: 0, ahead: 0 });
}

/** Whether the first person, whose device visitors use, is at the same station as this one. */
const nearHost = ({ model }: Station, seat: ModelSeat): boolean => !model.seats[0]!.out && model.seats[0]!.away === seat.away;

async function gear(station: Station, seatNo: number, kind: Command['kind']): Promise<void> {
  const { model } = station;
  const person = station.people[seatNo]!;
  const seat = model.seats[seatNo]!;
  const confirmPath = person.visits ? `/api/gear/visitors/${person.id}/confirm` : '/api/gear/confirm';
  const confirm = (itemKey: string) =>
    station.request(`${person.name} confirms ${itemKey}`, person.by, confirmPath, { id: newId(), itemKey }, () => {
      const may = !seat.out && (!person.visits || nearHost(station, seat));
      if (may) seat.confirmed.add(itemKey);
      return may;
    });
  if (kind === 'confirm-one') return confirm(model.items[seatNo % model.items.length]!);
  if (kind === 'confirm-all' || kind === 'sign-off') {
    for (const item of model.items) if (!seat.confirmed.has(item)) await confirm(item);
    return kind === 'sign-off' ? gear(station, seatNo, 'countersign') : undefined;
  }
  if (kind === 'countersign')
    return station.request(`countersign ${person.name}`, studio.as.instructor, `/api/seats/${person.id}/countersign`, { id: newId() }, () => sign(model, seat));
  if (kind === 'gone' || (kind === 'sign-out' && person.visits))
    return station.request(`${person.name} is signed out`, studio.as.assistant, `/api/seats/${person.id}/sign-out`, {}, () => {
      seat.out = true;
      return true;
    });
  if (kind === 'move') return move(station, seatNo);
  if (kind === 'pause' && !person.visits)
    return station.request(`${person.name} takes a break`, person.by, '/api/gear/lapse', { id: newId(), reason: '' }, () => {
      if (!seat.out) endSignOff(seat);
      return !seat.out;
    });
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

/** To the other station and back again. */
function move(station: Station, seatNo: number): Promise<void> {
  const seat = station.model.seats[seatNo]!;
  const { id, name } = station.people[seatNo]!;
  const away = !seat.away;
  const to = away ? room.benches[RUNS]! : station.bench;
  return station.request(`${name} moves`, studio.as.instructor, `/api/seats/${id}/move`, { id: newId(), classStationId: to.classStationId }, () => {
    if (!seat.out && seat.away !== away) {
      endSignOff(seat);
      seat.away = away;
    }
    return !seat.out;
  });
}

/** Somebody comes to look, at the first person's station. */
function visit(station: Station): Promise<void> {
  const host = station.people[0]!;
  const person = { ...host, id: newId(), name: `V${station.people.length}`, visits: true as const };
  return station.request(`${person.name} visits`, host.by, '/api/gear/visitors', { id: person.id, name: person.name }, () => {
    const model = station.model.seats[0]!;
    // A device whose seat has signed out can add nobody.
    if (model.out) return false;
    station.people.push(person);
    station.model.seats.push({ ...newcomer(), away: model.away });
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
  if (command.kind === 'visitor') return station.people.length < 5 ? visit(station) : undefined;
  if (command.kind === 'stop') return room('stop', station.people[0]!.by, () => true);
  if (command.kind === 'clear') return room('clear', studio.as.owner, () => model.stopped);
  if (command.kind === 'time') {
    clock.forward(command.minutes);
    return passTime(model, command.minutes);
  }
  if (command.kind === 'again') return station.sent.length > 0 ? station.send(station.sent[command.which % station.sent.length]!) : undefined;
  const seatNo = command.who % station.people.length;
  // A visitor has no device to work with.
  const actor = station.people[seatNo]!.visits ? 0 : seatNo;
  if (command.kind === 'check') return check(station, actor, command);
  if (command.kind === 'proceed') return proceed(station, actor);
  if (command.kind === 'reading' || command.kind === 'done' || command.kind === 'jar') return act(station, actor, command);
  return gear(station, seatNo, command.kind);
}

test(
  'whatever is sent, and sent again, an act counts exactly when the room runs, it is its step’s turn, and everybody there is signed off',
  { timeout: 120_000 },
  async () => {
    let run = 0;
    const total = { reading: 0, check: 0, done: 0, jar: 0 };
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
      const checks = await studio.admin.query('SELECT 1 FROM reading_check k JOIN reading r ON r.id = k.reading_id WHERE r.card_id = $1', [id]);
      expect(checks.rowCount).toBe(station.accepted.check);
      for (const kind of ['reading', 'check', 'done', 'jar'] as const) total[kind] += station.accepted[kind];
    };
    await fc.assert(fc.asyncProperty(fc.array(command, { minLength: 50, maxLength: 50 }), play), { numRuns: RUNS, endOnFailure: true });
    // Said so that a gate that never opens could not pass.
    expect(Math.min(total.reading, total.done), JSON.stringify(total)).toBeGreaterThan(15);
    expect(total.check, JSON.stringify(total)).toBeGreaterThan(5);
  },
);
