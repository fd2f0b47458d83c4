import type { MonthReview, NoteFiled, Problem } from '@ashwater/contracts';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { classroom, ok, takeSeat } from '../../../testing/classroom.ts';
import { handClock } from '../../../testing/clock.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

const clock = handClock('2026-03-07T10:00:00Z');
let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio({ clock: () => clock.now });
  // Two students for two hours and a half each, one for half an hour: five hours and a half (the class is of March).
  const room = await classroom(studio, { stations: 2 });
  const seats = [
    await takeSeat(studio, room.benches[0]!, 'Una'),
    await takeSeat(studio, room.benches[0]!, 'Ben'),
    await takeSeat(studio, room.benches[1]!, 'Cal'),
  ];
  clock.forward(30);
  await ok(seats[2]!.by.post('/api/seat/sign-out', {}));
  clock.forward(120);
  for (const seat of seats.slice(0, 2)) await ok(seat.by.post('/api/seat/sign-out', {}));
  const file = (kind: string, what: string) =>
    ok<NoteFiled>(
      studio.as.instructor.post('/api/notes', {
        id: newId(),
        kind,
        place: '',
        stepTitle: 'Clean up',
        what,
        whatStoppedIt: '',
        doneAtOnce: '',
        classId: room.classId,
      }),
    );
  const ids = [await file('near miss', '=HYPERLINK("http://x")'), await file('near miss', 'A wet floor'), await file('incident', 'A drop on a wrist')].map(
    ({ id }) => id,
  );
  const judged = { id: newId(), actual: 'slight', potential: 'serious', category: 'contact with caustic', causes: ['method', 'gear'], staff: true };
  const about = { classId: null, cardId: null, lotId: null, containerId: null };
  clock.forward(60 * 48);
  await ok(studio.as.manager.post(`/api/notes/${ids[2]!}/triage`, { ...judged, causes: ['method', 'equipment'], ...about }));
});
afterAll(() => studio.close());
const month = (of = '2026-03') => ok<MonthReview>(studio.as.owner.get(`/api/note-month?month=${of}`));

test('a month tells its notes by kind, cause and step, and their rate on the hours that students were there', async () => {
  const review = await month();
  expect(review.notes).toEqual({ nearMisses: 2, incidents: 1 });
  expect(review.studentHours).toBeCloseTo(5.5, 6);
  expect(review.classes).toBe(1);
  expect(review.nearMissesPerIncident).toBe(2);
  // By hand: 3 notes in 5.5 hours are 545.5 in 1,000; limits of a count of 3 are 0.619 and 8.767 (Garwood 1936, from memory).
  expect(review.per1000!.rate).toBeCloseTo(3000 / 5.5, 6);
  expect(review.per1000!.low).toBeCloseTo((0.6187 * 1000) / 5.5, 1);
  expect(review.per1000!.high).toBeCloseTo((8.7673 * 1000) / 5.5, 1);
  expect(review.byCategory).toEqual([
    { name: 'contact with caustic', count: 1 },
    { name: 'not judged yet', count: 2 },
  ]);
  expect(review.byCause.map(({ name, count }) => [name, count])).toEqual([
    ['equipment', 1],
    ['method', 1],
    ['not judged yet', 2],
  ]);
  expect(review.byStep).toEqual([{ name: 'Clean up', count: 3 }]);
  expect(review.daysToReview).toMatchObject({ median: 2, waiting: 2 });
  expect(review.smallNumbers).toMatch(/^Only 3/);
  expect(review.chart?.points.at(-1)).toMatchObject({ month: '2026-03', count: 3, outside: false });
  expect(await month('2026-02')).toMatchObject({ notes: { nearMisses: 0, incidents: 0 }, studentHours: 0, per1000: null });
});

test('the incidence rate counts incidents of staff against the hours that were written, 200,000 for a hundred people', async () => {
  expect((await month()).incidenceRate).toBeNull();
  const write = (hours: string) => studio.as.manager.put('/api/staff-hours', { month: '2026-03', hours });
  for (const hours of ['', 'many', '-3', '1e9', '3.333']) {
    const answer = await write(hours);
    expect([hours, answer.statusCode, answer.json<Problem>().errors?.[0]?.pointer]).toEqual([hours, 422, '/hours']);
  }
  await ok(write('400'));
  await ok(write('200 h'));
  expect(await month()).toMatchObject({ staffHours: 200, staffCases: 1, incidenceRate: 1000 });
});

test('an export reads back whole, runs as no formula, names only where asked, and stands in the audit', async () => {
  const range = { fromDay: '2026-03-01', toDay: '2026-03-31' };
  const rowsOf = async (names: boolean) =>
    parse((await ok<{ csv: string }>(studio.as.owner.post('/api/note-export', { ...range, names }))).csv, { columns: true }) as Record<string, string>[];
  const rows = await rowsOf(false);
  expect(rows).toHaveLength(3);
  expect(rows.map((row) => row['what happened'])).toContain(`'=HYPERLINK("http://x")`);
  expect(rows.map((row) => row['told by'])).toEqual(['', '', '']);
  expect((await rowsOf(true)).map((row) => row['told by'])).toEqual(['Ada instructor', 'Ada instructor', 'Ada instructor']);
  const { rows: audits } = await studio.admin.query<{ action: string }>(`SELECT action FROM audit WHERE action LIKE 'exported%' ORDER BY seq`);
  expect(audits.map(({ action }) => action)).toEqual(['exported notes', 'exported notes with names']);
});
