import type { StationView } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { classroom, ok, signOff, takeSeat } from '../../testing/classroom.ts';
import type { Classroom, SeatAt } from '../../testing/classroom.ts';
import { handClock } from '../../testing/clock.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

const clock = handClock();
let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read });
  room = await classroom(studio, { stations: 1 });
});
afterAll(() => studio.close());
const viewOf = (seat: SeatAt) => ok<StationView>(seat.by.get('/api/station'));

test('a station’s page knows when the first sign-off of those who are there runs out, the partner’s too', async () => {
  const first = await takeSeat(studio, room.benches[0]!, 'Mira');
  expect((await viewOf(first)).gate).toMatchObject({ open: false, until: null });
  await signOff(studio, first);
  clock.forward(20);
  const second = await takeSeat(studio, room.benches[0]!, 'Joss');
  await signOff(studio, second);
  const [mine, theirs] = [await viewOf(first), await viewOf(second)];
  expect(mine.gear.validUntil! < theirs.gear.validUntil!).toBe(true);
  expect([mine.gate.until, theirs.gate.until]).toEqual([mine.gear.validUntil, mine.gear.validUntil]);
  await ok(first.by.post('/api/seat/sign-out', {}));
  expect((await viewOf(second)).gate).toMatchObject({ open: true, until: theirs.gear.validUntil });
});
