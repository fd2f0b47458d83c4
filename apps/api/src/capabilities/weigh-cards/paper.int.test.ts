import type { CardStep, PaperEntered } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { goodEntry, viewOf } from '../../testing/card-steps.ts';
import { classroom, countersign, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
let bench: Bench;
let steps: CardStep[];
let taken = 0;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 8 });
});
afterAll(() => studio.close());
beforeEach(() => {
  bench = room.benches[taken++]!;
  steps = bench.card.content.steps;
});

const lineOf = (step: CardStep, entered = step.kind === 'weigh' || step.kind === 'temperature' ? goodEntry(step) : '', byName = 'Bea') => ({
  id: newId(),
  stepNo: step.no,
  entered,
  second: step.lineKey === 'naoh' ? { id: newId(), entered, byName } : null,
});
type Line = ReturnType<typeof lineOf>;
const enter = (lines: Line[], key?: string) => studio.as.assistant.post(`/api/cards/${bench.card.id}/paper`, { lines }, key);
const upTo = (no: number) => steps.filter((step) => step.no < no).map((step) => lineOf(step));
const lye = () => steps.find((step) => step.lineKey === 'naoh')!;
const rows = async (sql: string) => (await studio.admin.query<Record<string, unknown>>(sql, [bench.card.id])).rows;

test('a printed card is copied whole, to the jar and the clean-up, and every reading says that it comes from paper', async () => {
  const mira = await takeSeat(studio, bench, 'Mira');
  await signOff(studio, mira);
  clock.forward(300); // the sign-off has run out, and everybody has gone home
  await ok(mira.by.post('/api/seat/sign-out', {}));
  const label = steps.find((step) => step.kind === 'label')!;
  const key = newId();
  const lines = upTo(label.no);
  for (let n = 0; n < 2; n += 1) expect(await ok<PaperEntered>(enter(lines, key))).toEqual({ entered: lines.length, currentStepNo: label.no, stopped: null });
  const readings = await rows('SELECT source, seat_id, account_id FROM reading WHERE card_id = $1');
  expect(readings).toHaveLength(lines.filter((line) => line.entered !== '').length);
  for (const reading of readings) expect(reading).toEqual({ source: 'paper', seat_id: null, account_id: studio.ids.assistant });
  expect(await rows('SELECT k.by_name, k.agrees FROM reading_check k JOIN reading r ON r.id = k.reading_id WHERE r.card_id = $1')).toEqual([
    { by_name: 'Bea', agrees: true },
  ]);
  expect((await ok<PaperEntered>(enter([lineOf(label)]))).stopped).toMatchObject({ stepNo: label.no, code: 'jar-needed' });
  await ok(studio.as.assistant.post('/api/jars/from-paper', { id: newId(), cardId: bench.card.id, mass: '100' }));
  expect(await ok<PaperEntered>(enter([lineOf(steps.at(-1)!)]))).toEqual({ entered: 1, currentStepNo: null, stopped: null });
});

test('without a sign-off on record it stops at the first caustic step and says what to do; what stands before it is kept', async () => {
  const all = steps.map((step) => lineOf(step));
  const said = await ok<PaperEntered>(enter(all));
  expect(said).toMatchObject({ entered: lye().no - 1, currentStepNo: lye().no, stopped: { stepNo: lye().no, code: 'gear-not-signed' } });
  expect(said.stopped!.detail).toMatch(/anybody.*floor page/s);
  // The way it says: a person on paper is put at the station, confirms on the tablet, and is signed.
  const id = newId();
  await ok(studio.as.assistant.post(`/api/classes/${room.classId}/people`, { id, classStationId: bench.classStationId, name: 'Nils', kind: 'student' }));
  expect((await ok<PaperEntered>(enter([lineOf(lye())]))).stopped!.detail).toContain('Nils');
  for (const item of bench.card.content.gear) await ok(studio.as.assistant.post(`/api/seats/${id}/confirm`, { id: newId(), itemKey: item.key }));
  expect((await ok<PaperEntered>(enter([lineOf(lye())]))).stopped).toMatchObject({ code: 'gear-not-signed' });
  await ok(countersign(studio.as.assistant, { id }));
  expect((await ok<PaperEntered>(enter([lineOf(lye())]))).stopped).toBeNull();
});

test('the same judgements: off target stops, no second reading stops, two that differ stop, an ambiguous number stops', async () => {
  const mira = await takeSeat(studio, bench, 'Mira');
  await signOff(studio, mira);
  const fat = steps[1]!;
  const stoppedAt = async (lines: Line[]) => (await ok<PaperEntered>(enter(lines))).stopped?.code;
  expect(await stoppedAt([lineOf(steps[0]!), lineOf(fat, '1')])).toBe('reading-off-target');
  expect((await viewOf(mira)).readings).toMatchObject([{ verdict: 'under', source: 'paper', byName: expect.any(String) }]);
  expect(await stoppedAt([lineOf(fat, '1,234')])).toBe('input-refused');
  expect(await stoppedAt([lineOf(fat, '')])).toBe('reading-off-target');
  expect(await stoppedAt([lineOf(steps[3]!)])).toBe('step-out-of-order');
  expect(await stoppedAt(upTo(lye().no).slice(1))).toBeUndefined();
  expect(await stoppedAt([lineOf(lye(), goodEntry(lye()), '')])).toBe('second-reading-needed');
  const differs = lineOf(lye());
  differs.second!.entered = String(lye().targetMg! / 1000 + 5);
  expect(await stoppedAt([differs])).toBe('second-reading-needed');
  expect(await stoppedAt([lineOf(lye())])).toBeUndefined();
});

test('staff only, in their own studio, while the room runs', async () => {
  const seat = await takeSeat(studio, bench);
  await expectRefused(studio.admin, () => seat.by.post(`/api/cards/${bench.card.id}/paper`, { lines: [lineOf(steps[0]!)] }), {
    status: 401,
    code: 'sign-in-needed',
  });
  await expectRefused(studio.admin, () => studio.as.owner.post(`/api/cards/${newId()}/paper`, { lines: [lineOf(steps[0]!)] }), {
    status: 404,
    code: 'not-found',
  });
  await ok(studio.as.owner.post(`/api/classes/${room.classId}/stop`, { id: newId(), reason: '' }));
  expect((await ok<PaperEntered>(enter([lineOf(steps[0]!)]))).stopped).toMatchObject({ code: 'room-stopped' });
  await ok(studio.as.owner.post(`/api/classes/${room.classId}/clear`, { id: newId(), reason: 'all well' }));
});
