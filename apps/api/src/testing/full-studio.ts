import type pg from 'pg';
import { newId } from '../ids.ts';
import { changed, done, finish, read, stepsOf, workTo } from './card-steps.ts';
import { classBody, classroom, lapse, ok, signOff, takeSeat } from './classroom.ts';
import { soundDraft } from './drafts.ts';
import type { Classroom, SeatAt } from './classroom.ts';
import { fillBooks } from './fill-books.ts';
import type { Books } from './fill-books.ts';
import { fillBottles } from './fill-bottles.ts';
import { fillHanding, fillScale } from './fill-handing.ts';
import { fillNotes } from './fill-notes.ts';
import type { Notes } from './fill-notes.ts';
import { bringBack, count, handedOut } from './stock-steps.ts';
import type { App, Caller, People } from './test-studio.ts';

export type FullStudio = People &
  Books &
  Notes & {
    app: App;
    room: Classroom;
    draftClassId: string;
    stationId: string;
    fatId: string;
    seat: SeatAt;
    checkOutId: string;
    openCheckOutId: string;
    jarId: string;
    readingId: string;
    fileId: string;
    scaleId: string;
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

const ownFat = (id: string, text: (what: string) => string) => ({
  id,
  name: text('fat'),
  botanicalName: text('species'),
  svLow: '182',
  svHigh: '198',
  iodineLow: '60',
  iodineHigh: '75',
  densityGPerMl: '0.915',
  unsaponifiablePercent: '1',
  source: text('data sheet'),
  sourceOn: '2025-11-02',
});

const checkOfScale = () => ({ id: newId(), scale: 'main', known: '1 kg', knownLimit: '0.05', shown: '1001 g' });

/** Every step up to the label, with one reading corrected and one taken as it is by a change of the card. Returns the superseded reading. */
async function workToLabel(seat: SeatAt, instructor: Caller): Promise<string> {
  const [label, weigh] = [stepsOf(seat).find((step) => step.kind === 'label')!, stepsOf(seat)[1]!];
  await ok(done(seat, 1));
  const readingId = newId();
  await ok(read(seat, weigh, '1', { id: readingId }));
  await ok(read(seat, weigh, String(weigh.targetMg! / 1000), { supersedesId: readingId }));
  await ok(done(seat, 2));
  for (const step of stepsOf(seat)) {
    if (step.no <= 2 || step.no >= label.no) continue;
    if (step.lineKey !== 'water') await finish(seat, step);
    else {
      await ok(read(seat, step, String((step.acceptHighMg! + 5000) / 1000)));
      await changed(instructor, seat, step.no);
      await ok(done(seat, step.no));
    }
  }
  return readingId;
}

/** The whole life of a class in one studio, so that every table has rows of it; every text a person writes begins with `mark`. */
export async function fillStudio(people: People & { app: App }, admin: pg.Client, mark: string): Promise<FullStudio> {
  const { as } = people;
  const text = (what: string) => `${mark} ${what}`;
  const room = await classroom(people, {
    draft: soundDraft({ title: text('bar'), additives: [{ name: text('oats'), shareOfFatPercent: '2', limitPercent: '5' }] }),
    stations: 2,
    title: text('class'),
    room: text('room'),
    name: text('bench'),
    setUp: () => ({ mouldName: text('mould') }),
  });
  const draftClass = await classBody(people, room.versionId, { title: text('draft class'), name: text('other bench') });
  await ok(as.instructor.post('/api/classes', draftClass));
  await ok(as.manager.post('/api/lots', secondLot(text)));
  await ok(as.manager.post(`/api/stations/${draftClass.stations[0]!.stationId}/check-weighings`, checkOfScale()));
  const fatId = newId();
  await ok(as.instructor.post('/api/fats', ownFat(fatId, text)));

  const { fileId } = await fillBottles(as.manager, room.lotId, room.containerIds[0]!, text);
  const checkOutId = await handedOut(as.manager, room.containerIds[0]!, room.classId, '300');
  await ok(bringBack(as.manager, checkOutId, '120'));
  const scaleId = await fillScale(as.manager, text);
  const books = await fillBooks(as, room.containerIds[0]!, text);
  await fillHanding(as.manager, room.containerIds[0]!, room.classId, scaleId, text);
  await ok(count(as.manager, [{ containerId: room.containerIds[0]!, gross: '1068' }]));
  const openCheckOutId = await handedOut(as.manager, room.containerIds[0]!, room.classId, '50');

  await ok(as.assistant.post(`/api/classes/${room.classId}/checks`, { id: newId(), itemKey: 'eyewash', sound: false, remark: text('basket before it') }));
  await ok(as.assistant.post(`/api/classes/${room.classId}/messages`, { id: newId(), text: text('message') }));
  await ok(as.owner.post(`/api/stations/${draftClass.stations[0]!.stationId}/bind`, { id: newId() }));

  const seat = await takeSeat(people, room.benches[0]!, text('student'));
  await signOff(people, seat);
  await ok(lapse(as.assistant, seat, text('glove')));
  await ok(seat.by.post(`/api/classes/${room.classId}/stop`, { id: newId(), reason: text('spill') }));
  await ok(as.owner.post(`/api/classes/${room.classId}/clear`, { id: newId(), reason: text('wiped') }));
  await signOff(people, seat);
  const readingId = await workToLabel(seat, as.instructor);
  const jarId = newId();
  await ok(seat.by.post('/api/jars', { id: jarId, cardId: seat.bench.card.id, mass: '100' }));
  await ok(as.manager.post(`/api/jars/${jarId}/discard`, { id: newId(), remark: text('neutralised') }));

  const notes = await fillNotes(people, { ...room }, text);
  return {
    ...people,
    ...books,
    ...notes,
    room,
    draftClassId: draftClass.id,
    stationId: draftClass.stations[0]!.stationId,
    fatId,
    seat,
    checkOutId,
    openCheckOutId,
    jarId,
    readingId,
    fileId,
    scaleId,
  };
}

/** A seat in the middle of its card, gear signed off, at the other station of the class. */
export async function seatAtWork(studio: FullStudio, name: string): Promise<SeatAt> {
  const seat = await takeSeat(studio, studio.room.benches[1]!, name);
  await workTo(seat, 3);
  await signOff(studio, seat);
  return seat;
}
