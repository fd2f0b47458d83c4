import type { JarDetail, Problem } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { stepsOf, workTo } from '../../testing/card-steps.ts';
import { handClock } from '../../testing/clock.ts';
import { classroom, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { bringBack, handedOut } from '../../testing/stock-steps.ts';
import { callerOn, signInOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
let jarId: string;
let jarMg: number;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 1 });
  const seat = await takeSeat(studio, room.benches[0]!, 'Student');
  await signOff(studio, seat);
  const label = stepsOf(seat).find((step) => step.kind === 'label')!;
  await workTo(seat, label.no);
  jarId = newId();
  jarMg = Math.round(seat.bench.card.content.solutionMassMg / 2000) * 1000;
  await ok(seat.by.post('/api/jars', { id: jarId, cardId: seat.bench.card.id, mass: String(jarMg / 1000) }));
});
afterAll(() => studio.close());

const act = (body: object) => studio.as.manager.post(`/api/jars/${jarId}/acts`, { id: newId(), remark: '', ...body });
const jar = async () => (await studio.as.assistant.get(`/api/jars/${jarId}`)).json<JarDetail>();
const inPlace = async (place: string) =>
  Number(
    (
      await studio.admin.query<{ mg: string }>('SELECT coalesce(sum(balance_mg), 0) AS mg FROM place_balance WHERE studio_id = $1 AND place = $2', [
        studio.studioId,
        place,
      ])
    ).rows[0]!.mg,
  );

test('the caustic in a jar comes into the ledger when its class gives back what it did not use', async () => {
  const before = await jar();
  expect(before).toMatchObject({ booked: false, nowMg: jarMg, state: 'in date' });
  const inJarMg = before.lots[0]!.massMg;
  expect(inJarMg).toBeGreaterThan(0);
  const checkOutId = await handedOut(studio.as.manager, room.containerIds[0]!, room.classId, '500');
  expect(await inPlace(`jar:${jarId}`)).toBe(0);
  await ok(bringBack(studio.as.manager, checkOutId, '200'));
  expect(await jar()).toMatchObject({ booked: true });
  expect(await inPlace(`jar:${jarId}`)).toBe(inJarMg);
  expect(await inPlace(`product:${room.classId}`)).toBe(300_000 - inJarMg);
});

test('used from, topped up, put away: the jar, its strength and the ledger follow', async () => {
  const fullMg = await inPlace(`jar:${jarId}`);
  const { concentrationPercent } = await jar();
  await ok(act({ kind: 'used', mass: String(jarMg / 4000) }));
  expect(await jar()).toMatchObject({ nowMg: jarMg * 0.75, nowConcentrationPercent: concentrationPercent });
  expect(Math.abs((await inPlace(`jar:${jarId}`)) - fullMg * 0.75), 'to the rounding of a milligram').toBeLessThanOrEqual(1);
  await ok(act({ kind: 'topped', mass: String((jarMg * 0.75) / 1000) }));
  expect((await jar()).nowConcentrationPercent).toBeCloseTo(concentrationPercent / 2, 6);
  await ok(act({ kind: 'placed', place: 'Cabinet, lower shelf' }));
  expect(await jar()).toMatchObject({ place: 'Cabinet, lower shelf' });
});

test.each([
  [{ kind: 'used', mass: '99999' }, '/mass'],
  [{ kind: 'used', mass: '' }, '/mass'],
  [{ kind: 'used', mass: '0' }, '/mass'],
  [{ kind: 'topped', mass: '1,234' }, '/mass'],
  [{ kind: 'topped', mass: '900 kg' }, '/mass'],
  [{ kind: 'placed', place: ' ' }, '/place'],
])('%j is refused at %s and changes nothing', async (body, pointer) => {
  const before = await jar();
  const answer = await act(body);
  expect(answer.statusCode).toBe(422);
  expect(answer.json<Problem>().errors?.map((each) => each.pointer)).toEqual([pointer]);
  expect(await jar()).toEqual(before);
});

test('nothing is used from a jar past its discard date; it can still be neutralised, once, and its caustic is waste then', async () => {
  clock.forward(15 * 24 * 60);
  for (const role of ['manager', 'assistant'] as const) studio.as[role] = callerOn(studio.app, await signInOn(studio.app, `${role}@example.org`));
  const late = await act({ kind: 'used', mass: '1' });
  expect([late.statusCode, late.json<Problem>().code]).toEqual([409, 'jar-past-date']);
  const leftMg = await inPlace(`jar:${jarId}`);
  const wasteMg = await inPlace('waste');
  const both = await Promise.all([act({ kind: 'neutralised' }), act({ kind: 'disposed' })]);
  expect(both.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
  expect(await inPlace(`jar:${jarId}`)).toBe(0);
  expect(await inPlace('waste')).toBe(wasteMg + leftMg);
  expect((await jar()).state).toBe('discarded');
  const { rows } = await studio.admin.query('SELECT * FROM ledger_line WHERE studio_id = $1', [studio.studioId]);
  const [sum] = (await studio.admin.query<{ mg: string }>('SELECT sum(balance_mg) AS mg FROM place_balance WHERE studio_id = $1', [studio.studioId])).rows;
  expect([rows.length > 5, Number(sum!.mg)]).toEqual([true, 0]);
});
