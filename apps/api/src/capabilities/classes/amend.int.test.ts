import type { AmendOut, CardOut, ClassOut, FloorView } from '@ashwater/contracts';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { done, finish, firstCaustic, goodEntry, read, stepsOf, viewOf, workTo } from '../../testing/card-steps.ts';
import { classroom, dress, ok, publishedRecipe, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Bench, Classroom } from '../../testing/classroom.ts';
import { soundDraft } from '../../testing/drafts.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { receive } from '../../testing/stock-steps.ts';
import { studioOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());
beforeEach(async () => {
  room = await classroom(studio, { stations: 3 });
});

const TYPED = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf, nine bars', mouldVolumeMl: '1100' };
const at = ({ classStationId, card }: Bench, change: object = {}) => ({ classStationId, cardId: card.id, ...TYPED, ...change });
const body = (stations: object[], more: object = {}) => ({ id: newId(), stations, reason: 'The mould is a larger one', ...more });
const LARGER = { mouldName: 'Slab', mouldVolumeMl: '1500' };
const amend = (sent: object, by = studio.as.instructor, key?: string) => by.post(`/api/classes/${room.classId}/amend`, sent, key);
const cardsNow = async () => (await ok<{ cards: CardOut[] }>(studio.as.assistant.get(`/api/classes/${room.classId}/cards`))).cards;
const cardAt = async ({ classStationId }: Bench) => (await cardsNow()).find((card) => card.classStationId === classStationId && !card.voided)!;

describe('an amended class', () => {
  test('gives the chosen station a new issue of its card; the others keep card, readings and gear', async () => {
    const [first, second] = [await takeSeat(studio, room.benches[0]!, 'Mira'), await takeSeat(studio, room.benches[1]!, 'Joss')];
    for (const seat of [first, second]) {
      await finish(seat, stepsOf(seat)[0]!);
      await ok(read(seat, stepsOf(seat)[1]!, goodEntry(stepsOf(seat)[1]!)));
      await signOff(studio, seat);
    }
    const untouched = await viewOf(second);
    const answer = await ok<AmendOut>(amend(body([at(room.benches[0]!, LARGER)])));
    const { card: old } = first.bench;
    expect(answer).toMatchObject({
      issued: true,
      stations: [{ before: { number: old.number, issue: 1 }, after: { number: old.number, issue: 2 }, done: 1, lost: null }],
    });
    expect(answer.stations[0]!.changes).toContain('Mould: Slab, before: Loaf, nine bars');
    const fresh = await cardAt(first.bench);
    expect(fresh).toMatchObject({ number: old.number, issue: 2, content: { mouldName: 'Slab', mouldVolumeMl: 1500 } });
    const naoh = (card: CardOut) => card.content.lines.find((line) => line.kind === 'naoh')!.targetMg;
    expect(naoh(fresh)).toBeGreaterThan(naoh(old));
    expect((await cardsNow()).filter((card) => card.voided).map((card) => card.id)).toEqual([old.id]);
    // From nothing: no step, no reading, no gear.
    expect(await viewOf(first)).toMatchObject({ card: { id: fresh.id }, currentStepNo: 1, readings: [], gate: { open: false } });
    expect(await viewOf(second)).toEqual(untouched);
    const floor = await ok<FloorView>(studio.as.assistant.get(`/api/classes/${room.classId}/floor`));
    const gear = (n: number) => floor.stations.find((station) => station.id === room.benches[n]!.classStationId)!.seats[0]!.gear.status;
    expect([gear(0), gear(1)]).toEqual(['none', 'signed']);
  });

  test('the voided card refuses every act; the new one is worked through as ever', async () => {
    const seat = await takeSeat(studio, room.benches[0]!);
    await finish(seat, stepsOf(seat)[0]!);
    await ok(amend(body([at(room.benches[0]!, LARGER)])));
    const voided = { status: 409, code: 'card-voided' };
    await expectRefused(studio.admin, () => read(seat, stepsOf(seat)[1]!, goodEntry(stepsOf(seat)[1]!)), voided);
    await expectRefused(studio.admin, () => done(seat, 2), voided);
    const again = { ...seat, bench: { ...seat.bench, card: await cardAt(seat.bench) } };
    await dress(again);
    await ok(studio.as.instructor.post(`/api/seats/${seat.id}/countersign`, { id: newId() }));
    await workTo(again, firstCaustic(again).no + 1);
    expect((await viewOf(again)).currentStepNo).toBe(firstCaustic(again).no + 1);
  });

  test('one unsafe station refuses them all, and nothing is changed', async () => {
    const before = await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${room.classId}`));
    const sent = body([at(room.benches[2]!, LARGER), at(room.benches[0]!, { scaleStep: '20 g' })]);
    const problem = await expectRefused(studio.admin, () => amend(sent), { status: 422, code: 'card-not-safe', pointer: '/stations/1' });
    expect(problem.detail).toContain(room.benches[0]!.name);
    expect(await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${room.classId}`))).toEqual(before);
  });

  test('a preview says the same and issues nothing', async () => {
    const sent = body([at(room.benches[0]!, LARGER)]);
    const before = await cardsNow();
    const seen = await ok<AmendOut>(amend({ ...sent, preview: true }));
    expect(seen.issued).toBe(false);
    expect(await cardsNow()).toEqual(before);
    expect((await ok<AmendOut>(amend(sent))).stations).toEqual(seen.stations);
  });

  test('caustic at work is lost only when somebody read what is lost and confirmed it', async () => {
    const seat = await takeSeat(studio, room.benches[0]!);
    await signOff(studio, seat);
    await workTo(seat, firstCaustic(seat).no);
    await ok(read(seat, firstCaustic(seat), goodEntry(firstCaustic(seat))));
    const sent = body([at(room.benches[0]!, LARGER)]);
    const says = new RegExp(`step ${firstCaustic(seat).no}\\).*stay on card ${seat.bench.card.number}, issue 1`);
    expect((await ok<AmendOut>(amend({ ...sent, preview: true }))).stations[0]!.lost).toMatch(says);
    await expectRefused(studio.admin, () => amend(sent), { status: 409, code: 'work-would-be-lost', pointer: '/stations/0', says });
    await ok(amend({ ...sent, confirm: true }));
    const kept = await studio.admin.query('SELECT 1 FROM reading WHERE card_id = $1', [seat.bench.card.id]);
    expect(kept.rowCount).toBeGreaterThan(1);
    expect((await cardAt(room.benches[0]!)).issue).toBe(2);
  });

  test('is written down with its reason and told to the floor', async () => {
    await ok(amend(body([at(room.benches[1]!, LARGER)], { reason: 'Mould two is cracked' })));
    const audited = await studio.admin.query('SELECT detail FROM audit WHERE action = $1 AND subject = $2', ['amended a class', `class:${room.classId}`]);
    expect(audited.rows).toEqual([{ detail: { reason: 'Mould two is cracked', cards: `${room.benches[1]!.card.number} issue 2`, workLost: false } }]);
    const told = await studio.admin.query(`SELECT class_station_id FROM event WHERE kind = 'card-reissued' AND class_id = $1`, [room.classId]);
    expect(told.rows).toEqual([{ class_station_id: room.benches[1]!.classStationId }]);
  });
});

describe('recipe and lot', () => {
  test('one station makes another recipe; the class and the other stations keep theirs', async () => {
    const other = await publishedRecipe(studio, soundDraft({ title: 'Second bar', superfatPercent: '8' }));
    await ok(amend(body([at(room.benches[0]!, { recipeVersionId: other.versionId })])));
    expect((await cardAt(room.benches[0]!)).content).toMatchObject({ recipeTitle: 'Second bar', superfatAimPercent: 8 });
    const made = await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${room.classId}`));
    expect(made.stations.map((station) => station.recipeTitle)).toEqual(['Second bar', made.recipeTitle, made.recipeTitle]);
    // Left out means as it is, null means that of the class.
    const again = { ...room.benches[0]!, card: await cardAt(room.benches[0]!) };
    await ok(amend(body([at(again, LARGER)])));
    expect((await cardAt(again)).content.recipeTitle).toBe('Second bar');
    await ok(amend(body([at({ ...again, card: await cardAt(again) }, { recipeVersionId: null })])));
    expect((await cardAt(again)).content.recipeTitle).toBe(made.recipeTitle);
  });

  test('another lot changes every station that has not weighed its caustic yet', async () => {
    const { lotId } = await receive(studio.as.manager, [`Other ${newId().slice(-6)}`]);
    const seat = await takeSeat(studio, room.benches[2]!);
    await signOff(studio, seat);
    await workTo(seat, firstCaustic(seat).no + 1);
    const [first, second] = [at(room.benches[0]!), at(room.benches[1]!)];
    const says = new RegExp(`${room.benches[1]!.name} would get no caustic`);
    await expectRefused(studio.admin, () => amend(body([first], { naohLotId: lotId })), { status: 422, code: 'input-refused', pointer: '/naohLotId', says });
    await ok(amend(body([first, second], { naohLotId: lotId })));
    const lots = (await cardsNow()).filter((card) => !card.voided).map((card) => card.content.lots[0]!.lotNumber);
    expect(lots[0]).toMatch(/^L-Other/);
    expect(lots).toEqual([lots[0], lots[0], room.benches[2]!.card.content.lots[0]!.lotNumber]);
    const { stock } = await ok<ClassOut>(studio.as.manager.get(`/api/classes/${room.classId}`));
    expect(stock.map((need) => need.lotNumber)).toEqual([lots[0], lots[2]]);
    await expectRefused(studio.admin, () => amend(body([first], { naohLotId: newId() })), { status: 422, code: 'input-refused', pointer: '/naohLotId' });
  });
});

describe('refused', () => {
  test('another studio’s, a student’s and an assistant’s; a draft and a class that is over', async () => {
    const sent = body([at(room.benches[0]!, LARGER)]);
    const seat = await takeSeat(studio, room.benches[0]!);
    await expectRefused(studio.admin, () => amend(sent, studio.as.assistant), { status: 403, code: 'not-allowed' });
    await expectRefused(studio.admin, () => amend(sent, studio.as.manager), { status: 403, code: 'not-allowed' });
    await expectRefused(studio.admin, () => amend(sent, seat.by), { status: 401, code: 'sign-in-needed' });
    const other = await studioOn(studio.app, { studioName: 'Over the road', domain: 'over.example' });
    await expectRefused(studio.admin, () => amend(sent, other.as.owner), { status: 404, code: 'not-found' });
    await ok(studio.as.instructor.post(`/api/classes/${room.classId}/close`, {}));
    await expectRefused(studio.admin, () => amend(sent), { status: 409, code: 'class-not-open' });
  });

  test('what was typed wrong, at its field', async () => {
    const [first, second] = [room.benches[0]!, room.benches[1]!];
    const BAD: [object, string, RegExp][] = [
      [body([at(first), at(second, { scaleStep: '1,234' })]), '/stations/1/scaleStep', /1\.234/],
      [body([at(first), at(first)]), '/stations/1/classStationId', /twice/],
      [body([{ ...at(first), classStationId: newId() }]), '/stations/0/classStationId', /not in the class/],
      [body([at(first)], { reason: ' ' }), '/reason', /why/],
      [body([]), '/stations', /at least one/],
    ];
    for (const [sent, pointer, says] of BAD) await expectRefused(studio.admin, () => amend(sent), { status: 422, code: 'input-refused', pointer, says });
  });
});

describe('twice', () => {
  test('sent again with its key it makes one issue', async () => {
    const [sent, key] = [body([at(room.benches[0]!, LARGER)]), newId()];
    const answers = await Promise.all([0, 1, 2].map(() => amend(sent, studio.as.instructor, key)));
    for (const answer of answers) expect(answer.json()).toEqual(answers[0]!.json());
    expect((await cardsNow()).map((card) => card.issue).sort()).toEqual([1, 1, 1, 2]);
  });

  test('two amendments of one card at once: one stands, the other hears that the card was replaced', async () => {
    for (let round = 0; round < 4; round += 1) {
      const bench = { ...room.benches[0]!, card: await cardAt(room.benches[0]!) };
      const sent = [LARGER, { ...LARGER, mouldVolumeMl: '1200' }].map((change) => body([at(bench, change)]));
      const answers = await Promise.all([amend(sent[0]!), amend(sent[1]!, studio.as.owner)]);
      expect(answers.map((answer) => answer.statusCode).sort()).toEqual([200, 409]);
      expect(answers.find((answer) => answer.statusCode === 409)!.json()).toMatchObject({ code: 'card-voided' });
      expect((await cardAt(bench)).issue).toBe(bench.card.issue + 1);
    }
  });

  test('an act that has begun at a station ends before its card is replaced', async () => {
    // The lock an act holds from its first look to its last write; the namespace is that of lockRoom.
    await studio.admin.query('BEGIN');
    await studio.admin.query('SELECT pg_advisory_xact_lock_shared(hashtextextended($1, 11))', [room.classId]);
    const asked = amend(body([at(room.benches[0]!, LARGER)]));
    expect(await Promise.race([asked, new Promise((waited) => setTimeout(waited, 400, 'waits'))])).toBe('waits');
    await studio.admin.query('COMMIT');
    expect((await asked).statusCode).toBe(200);
    const seat = await takeSeat(studio, room.benches[0]!);
    await expectRefused(studio.admin, () => done(seat, 1), { status: 409, code: 'card-voided' });
  });
});
