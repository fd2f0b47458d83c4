import type pg from 'pg';
import { newId } from '../ids.ts';
import { finish, read, stepsOf, workTo } from './card-steps.ts';
import { classBody, classroom, lapse, ok, signOff, takeSeat } from './classroom.ts';
import { soundDraft } from './drafts.ts';
import type { Classroom, SeatAt } from './classroom.ts';
import { bringBack, count, handedOut } from './stock-steps.ts';
import type { App, People } from './test-studio.ts';

export type FullStudio = People & {
  app: App;
  room: Classroom;
  draftClassId: string;
  stationId: string;
  seat: SeatAt;
  checkOutId: string;
  openCheckOutId: string;
  jarId: string;
  readingId: string;
  noteId: string;
  returnCode: string;
};

const secondLot = (text: (what: string) => string) => ({
  id: newId(),
  substance: 'KOH',
  supplier: text('supplier'),
  lotNumber: text('lot'),
  purityPercent: '90',
  purityUncertaintyPercent: '1',
  sdsLink: `https://${text('')}.example/sds`.replace(/\s/g, ''),
  sdsRevisedOn: '2026-01-31',
  scaleStep: '1',
  containers: [{ id: newId(), label: text('bottle'), gross: '1250', tare: '250' }],
});

/** The whole life of a class in one studio, so that every table has rows of it; every text a person writes begins with `mark`. */
export async function fillStudio(people: People & { app: App }, admin: pg.Client, mark: string): Promise<FullStudio> {
  const { as, studioId } = people;
  const text = (what: string) => `${mark} ${what}`;
  const draft = soundDraft({ title: text('bar'), additives: [{ name: text('oats'), shareOfFatPercent: '2', limitPercent: '5' }] });
  const room = await classroom(people, {
    draft,
    stations: 2,
    title: text('class'),
    room: text('room'),
    name: text('bench'),
    setUp: () => ({ mouldName: text('mould') }),
  });
  const draftClass = await classBody(people, room.versionId, { title: text('draft class'), name: text('other bench') });
  await ok(as.instructor.post('/api/classes', draftClass));
  await ok(as.manager.post('/api/lots', secondLot(text)));

  const checkOutId = await handedOut(as.manager, room.containerIds[0]!, room.classId, '300');
  await ok(bringBack(as.manager, checkOutId, '120'));
  await ok(count(as.manager, [{ containerId: room.containerIds[0]!, gross: '1068' }]));
  const openCheckOutId = await handedOut(as.manager, room.containerIds[0]!, room.classId, '50');

  const seat = await takeSeat(people, room.benches[0]!, text('student'));
  await signOff(people, seat);
  await ok(lapse(as.assistant, seat, text('glove')));
  await ok(seat.by.post(`/api/classes/${room.classId}/stop`, { id: newId(), reason: text('spill') }));
  await ok(as.owner.post(`/api/classes/${room.classId}/clear`, { id: newId(), reason: text('wiped') }));
  await signOff(people, seat);
  const [label, weigh] = [stepsOf(seat).find((step) => step.kind === 'label')!, stepsOf(seat)[1]!];
  await ok(seat.by.post(`/api/cards/${seat.bench.card.id}/steps/1/done`, {}));
  const readingId = newId();
  await ok(read(seat, weigh, '1', { id: readingId }));
  await ok(read(seat, weigh, String(weigh.targetMg! / 1000), { supersedesId: readingId }));
  await ok(seat.by.post(`/api/cards/${seat.bench.card.id}/steps/2/done`, {}));
  for (const step of stepsOf(seat)) if (step.no > 2 && step.no < label.no) await finish(seat, step);
  const jarId = newId();
  await ok(seat.by.post('/api/jars', { id: jarId, cardId: seat.bench.card.id, mass: '100' }));
  await ok(as.manager.post(`/api/jars/${jarId}/discard`, { id: newId(), remark: text('neutralised') }));

  const told = (what: string) => ({
    id: newId(),
    kind: 'near miss',
    place: text('sink'),
    stepTitle: text('step'),
    what: text(what),
    whatStoppedIt: text('goggles'),
    doneAtOnce: text('water'),
  });
  const note = { ...told('cup at the edge'), classId: room.classId };
  await ok(as.instructor.post('/api/notes', note));
  await ok(as.manager.post(`/api/notes/${note.id}/reviews`, { id: newId(), outcome: 'change made', learned: text('learned'), change: text('change') }));
  const { returnCode } = await ok<{ returnCode: string }>(as.nobody.post('/api/notes/anonymous', { ...told('fumes'), code: room.joinCode }));
  // No route amends a note yet; the table is there for it.
  await admin.query('INSERT INTO note_amendment VALUES ($1, $2, $3, $4, $5, now())', [studioId, newId(), note.id, text('amended'), text('student')]);
  return {
    ...people,
    room,
    draftClassId: draftClass.id,
    stationId: draftClass.stations[0]!.stationId,
    seat,
    checkOutId,
    openCheckOutId,
    jarId,
    readingId,
    noteId: note.id,
    returnCode,
  };
}

/** A seat in the middle of its card, gear signed off, at the other station of the class. */
export async function seatAtWork(studio: FullStudio, name: string): Promise<SeatAt> {
  const seat = await takeSeat(studio, studio.room.benches[1]!, name);
  await workTo(seat, 3);
  await signOff(studio, seat);
  return seat;
}
