import type { CardOut } from '@ashwater/contracts';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { firstCaustic, workTo } from '../../testing/card-steps.ts';
import { classBody, classroom, ok, takeSeat } from '../../testing/classroom.ts';
import type { Bench, SeatAt } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { auditClass } from '../../testing/station-audit.ts';
import { classDay } from '../../testing/station-commands.ts';
import type { Command } from '../../testing/station-commands.ts';
import { happeningsOf } from '../../testing/station-history.ts';
import { nextStep } from '../../testing/station-model.ts';
import { peopleDo } from '../../testing/station-people.ts';
import { Station } from '../../testing/station-play.ts';
import type { Person, Tally } from '../../testing/station-play.ts';
import { workDo } from '../../testing/station-work.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

/* Steps in their order and none skipped, whoever sends what: OWASP ASVS 5.0, requirement 2.3.1. */
const RUNS = 50;
const COMMANDS = 55;
const AFTER_THE_END = 8;
// prettier-ignore
const KINDS = [
  'reading', 'done', 'jar', 'check by own seat', 'check by helper', 'check by staff', 'paper', 'paper jar', 'approve', 'confirm', 'countersign',
  'lapse', 'pause', 'sign-out', 'gone', 'move', 'join', 'visitor', 'add', 'stop', 'clear', 'amend', 'reschedule', 'close', 'cancel', 'again',
];
const clock = handClock();
let studio: TestStudio;
let body: Awaited<ReturnType<typeof classBody>>;
let stranger: SeatAt;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  const elsewhere = await classroom(studio);
  stranger = await takeSeat(studio, elsewhere.benches[0]!, 'Stranger');
  body = await classBody(studio, elsewhere.versionId, { lotId: elsewhere.lotId, stations: 2 });
});
afterAll(() => studio.close());

async function freshBenches(): Promise<[Bench, Bench]> {
  const at = { ...body, id: newId(), stations: body.stations.map((station) => ({ ...station, id: newId() })) };
  await ok(studio.as.instructor.post('/api/classes', at));
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${at.id}/publish`, {}));
  const bench = (n: number): Bench => {
    const card = cards.find((each) => each.classStationId === at.stations[n]!.id)!;
    return { classId: at.id, classStationId: card.classStationId, name: '', code: card.joinCode, card };
  };
  return [bench(0), bench(1)];
}

async function obey(station: Station, command: Command): Promise<void> {
  const person = station.people[command.who % station.people.length]!;
  // Whoever has no device sends nothing at the card.
  const actor = person.noDevice ? station.people[0]! : person;
  type Do = (station: Station, person: Person, command: Command, handClock: typeof clock) => Promise<void> | void;
  const work = workDo[command.kind] as Do | undefined;
  await (work ? work(station, actor, command, clock) : (peopleDo[command.kind] as Do)(station, person, command, clock));
}

async function expectRowsAsPlayed(station: Station, readingsBefore: number): Promise<void> {
  const steps = await studio.admin.query<{ step_no: number }>('SELECT step_no FROM card_step WHERE card_id = $1 ORDER BY step_no', [station.card.id]);
  expect(
    steps.rows.map((row) => row.step_no),
    'no step is there that was not done in its turn',
  ).toEqual([...station.model.done].sort((a, b) => a - b));
  const next = nextStep(station.model);
  const before = station.model.steps.slice(0, next ? station.model.steps.indexOf(next) : undefined);
  expect(before.every((step) => station.model.done.has(step.no))).toBe(true);
  const ids = station.cards.map((card) => card.id);
  const readings = await studio.admin.query('SELECT 1 FROM reading WHERE card_id = ANY($1)', [ids]);
  expect(readings.rowCount, 'a repeated request leaves no second row').toBe(station.accepted.reading + readingsBefore);
  const checks = await studio.admin.query('SELECT 1 FROM reading_check k JOIN reading r ON r.id = k.reading_id WHERE r.card_id = ANY($1)', [ids]);
  expect(checks.rowCount).toBe(station.accepted.check);
}

test(
  'whatever is sent, and sent again, an act counts exactly when the room runs, it is its step’s turn, and everybody there is signed off',
  { timeout: 300_000 },
  async () => {
    const tally: Tally = new Map();
    const play = async (commands: Command[]) => {
      const [home, away] = await freshBenches();
      const station = new Station({ studio, home, away, stranger, tally, nowMs: clock.now.getTime() });
      await station.sit();
      await station.sit();
      const caustic = firstCaustic(station.people[0]!).no;
      await workTo(station.people[0]!, caustic);
      const done = station.model.steps.filter((step) => step.no < caustic);
      for (const step of done) station.model.done.add(step.no);
      for (const command of commands) await obey(station, command);
      await expectRowsAsPlayed(station, done.filter((step) => step.kind === 'weigh').length);
      // A second judge, who knows only what the database holds.
      const { rows } = await studio.admin.query<{ id: string; account_id: string }>('SELECT id, account_id FROM seat WHERE class_id = $1', [home.classId]);
      const accounts = new Map(rows.map((row) => [row.id, row.account_id]));
      expect(auditClass(await happeningsOf(studio.admin, home.classId), accounts)).toEqual([]);
    };
    await fc.assert(fc.asyncProperty(classDay(COMMANDS, AFTER_THE_END), play), {
      numRuns: RUNS,
      endOnFailure: true,
      seed: Number(process.env.SEED ?? Date.now() % 1e9),
    });
    // Said so that a gate that never opens could not pass, nor a kind of request that chance never tried. Ten times as many are usual.
    const seldom = KINDS.filter((kind) => Math.min(tally.get(kind)?.accepted ?? 0, tally.get(kind)?.refused ?? 0) < 1);
    expect(seldom, JSON.stringify([...tally])).toEqual([]);
  },
);
