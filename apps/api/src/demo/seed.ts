import { ownFatKey } from '@ashwater/contracts';
import type { ClassOut } from '@ashwater/contracts';
import { buildApp } from '../app.ts';
import { createStudio } from '../capabilities/people/service.ts';
import { readConfig } from '../config.ts';
import { newId } from '../ids.ts';
import { cabinetScales, lateErrand, offers, receive, shelve } from './cabinet.ts';
import type { Lot } from './cabinet.ts';
import { clockAt, playClass } from './class-day.ts';
import type { DemoClock } from './class-day.ts';
import { latestNote, notesOf } from './notes.ts';
import { clientOf } from './client.ts';
import type { Client } from './client.ts';
import { DEMO_FAT, DEMO_RECIPES, demoMilkAndLemon } from './recipes.ts';
import { DEMO_SIGN_INS } from './sign-ins.ts';

const DAY_MS = 86_400_000;
const STUDENTS = [['Mira'], ['Joss', 'Edda'], ['Tarek'], ['Lio'], ['Suna', 'Peer'], ['Olma']];

type Stage = { clock: DemoClock; owner: Client; instructor: Client; manager: Client; student(): Client; id(): string };

/** Sessions end after thirty days, also for the demo's people while its clock runs. */
async function signInAll({ owner, instructor, manager }: Stage): Promise<void> {
  const clients = { owner, instructor, manager };
  for (const { role, email, password } of DEMO_SIGN_INS) await clients[role].post('/api/sign-in', { email, password });
}
type StationIds = {
  id: string;
  name: string;
  scaleStep: string;
  scaleCapacity: string;
  mouldName: string;
  mouldVolumeMl: string;
  verificationInterval: string;
  accuracyClass: '' | 'III';
  lyeScaleStep: string;
  lyeScaleCapacity: string;
  potMaterial: string;
  potVolumeMl: string;
};

/** So many days before now, at an hour of the clock in UTC. */
const daysFromNow = (days: number, hour: number): string => {
  const day = new Date(Date.now() + days * DAY_MS);
  day.setUTCHours(hour, 0, 0, 0);
  return day.toISOString();
};
const moveTo = (clock: DemoClock, iso: string): void => void (clock.now = new Date(iso));

async function stations({ owner, id }: Stage): Promise<StationIds[]> {
  const made: StationIds[] = [1, 2, 3, 4, 5, 6].map((n) => ({
    id: id(),
    name: `Station ${n}`,
    scaleStep: n <= 2 ? '0.1 g' : '1 g',
    scaleCapacity: n <= 2 ? '3000 g' : '5000 g',
    mouldName: n % 2 === 0 ? 'Slab, twelve bars' : 'Loaf, nine bars',
    mouldVolumeMl: n % 2 === 0 ? '1500' : '1100',
    // Two verified shop scales, a finer one for lye at the third, and kitchen scales whose plate says nothing.
    verificationInterval: n <= 2 ? '1 g' : '',
    accuracyClass: n <= 2 ? 'III' : '',
    lyeScaleStep: n === 3 ? '0.1 g' : '',
    lyeScaleCapacity: n === 3 ? '600 g' : '',
    potMaterial: n <= 4 ? 'pp' : n === 5 ? 'steel_304' : 'hdpe',
    potVolumeMl: n % 2 === 0 ? '2000' : '1500',
  }));
  for (const station of made) await owner.post('/api/stations', station);
  return made;
}

/** So many grams shown for a known kilogram, as the manager found them on the morning of a class; the last station was never checked. */
async function checkScales({ manager, id }: Stage, benches: StationIds[], shown: string[]): Promise<void> {
  for (const [i, text] of shown.entries())
    await manager.post(`/api/stations/${benches[i]?.id}/check-weighings`, { id: id(), scale: 'main', known: '1000 g', knownLimit: '0.05 g', shown: text });
}

async function recipes({ instructor, id }: Stage): Promise<string[]> {
  const versions: string[] = [];
  const fatId = id();
  await instructor.post('/api/fats', { id: fatId, ...DEMO_FAT, sourceOn: daysFromNow(-90, 8).slice(0, 10) });
  for (const draft of [...DEMO_RECIPES, demoMilkAndLemon(ownFatKey(fatId))]) {
    const recipeId = id();
    const versionId = id();
    await instructor.post('/api/recipes', { id: recipeId, draft });
    await instructor.post(`/api/recipes/${recipeId}/versions`, { id: versionId, revision: 1 });
    versions.push(versionId);
  }
  return versions;
}

type ClassPlan = { title: string; startsAt: string; versionId: string; naoh: Lot; koh: Lot | null; benches: StationIds[] };
async function prepare({ instructor, id }: Stage, plan: ClassPlan): Promise<ClassOut> {
  const classId = id();
  await instructor.post('/api/classes', {
    id: classId,
    title: plan.title,
    startsAt: plan.startsAt,
    room: 'The long room, Larkmoor Mill',
    recipeVersionId: plan.versionId,
    naohLotId: plan.naoh.lotId,
    kohLotId: plan.koh?.lotId ?? null,
    stations: plan.benches.map(({ id: stationId, name: _name, ...setUp }) => ({ id: id(), stationId, ...setUp })),
  });
  return instructor.get<ClassOut>(`/api/classes/${classId}`);
}

/** One past class, from publishing to closing, with caustic out and back in. */
async function teach(stage: Stage, plan: ClassPlan, overshootBy: string): Promise<ClassOut> {
  const { clock, instructor, manager, id } = stage;
  moveTo(clock, new Date(new Date(plan.startsAt).getTime() - DAY_MS).toISOString());
  await signInAll(stage);
  const prepared = await prepare(stage, plan);
  await instructor.post(`/api/classes/${prepared.id}/publish`);
  moveTo(clock, plan.startsAt);
  const needMg = prepared.readiness.reduce((sum, station) => sum + station.naohMg, 0);
  const checkoutId = id();
  const outG = Math.ceil(needMg / 1000) + 60;
  await manager.post('/api/checkouts', { id: checkoutId, containerId: plan.naoh.containerIds[0], classId: prepared.id, mass: `${outG} g`, scaleStep: '1 g' });
  const students = prepared.stations.flatMap((station, i) =>
    (STUDENTS[i] ?? []).slice(0, 1).map((name) => ({ name, code: station.joinCode, client: stage.student() })),
  );
  await playClass({ classId: prepared.id, students, instructor, clock, overshootBy });
  clock.forward(20);
  await manager.post(`/api/checkouts/${checkoutId}/return`, { mass: `${outG - Math.ceil(needMg / 1000)} g`, scaleStep: '1 g' });
  await instructor.post(`/api/classes/${prepared.id}/close`);
  return prepared;
}

async function count({ manager, id }: Stage, shortByG: number, labelShort: string): Promise<void> {
  type Sheet = { containers: { id: string; label: string; tareMg: number }[] };
  type Book = { lots: { containers: { id: string; balanceMg: number }[] }[] };
  const { containers } = await manager.get<Sheet>('/api/count-sheet');
  const { lots } = await manager.get<Book>('/api/cabinet');
  const balance = new Map(lots.flatMap((lot) => lot.containers).map((container) => [container.id, container.balanceMg]));
  await manager.post('/api/counts', {
    id: id(),
    scaleStep: '1 g',
    lines: containers.map((container) => {
      const g = Math.round((container.tareMg + (balance.get(container.id) ?? 0)) / 1000) - (container.label === labelShort ? shortByG : 0);
      return { containerId: container.id, gross: `${g} g`, first: `${g} g` };
    }),
  });
}

/** The jars of a class that is long past: all but the last were handed to disposal; that one shows as overdue. */
async function discardJars({ manager, id }: Stage, classTitle: string): Promise<void> {
  const { jars } = await manager.get<{ jars: { id: string; classTitle: string }[] }>('/api/jars');
  for (const jar of jars.filter((each) => each.classTitle === classTitle).slice(1))
    await manager.post(`/api/jars/${jar.id}/discard`, { id: id(), remark: 'Taken to the disposal point.' });
}

/** Two things are seen to for tomorrow, the others are still open; and the beginners come again. */
async function lookAhead({ instructor, id }: Stage, tomorrowId: string, beginnersId: string): Promise<void> {
  for (const itemKey of ['gear', 'first-aid']) await instructor.post(`/api/classes/${tomorrowId}/checks`, { id: id(), itemKey, sound: true, remark: '' });
  await instructor.post(`/api/classes/${beginnersId}/copy`, { id: id(), startsAt: daysFromNow(12, 10) });
}

/**
 * Makes the demo studio by doing what its people would have done, through the service itself: every gate, every ledger
 * line and every hash in it is real. Names, people and figures are invented.
 */
export async function seedDemo({ appUrl, log }: { appUrl: string; log: (line: string) => void }): Promise<void> {
  const clock = clockAt(daysFromNow(-40, 8));
  const app = await buildApp(readConfig({ DATABASE_APP_URL: appUrl, LOG_LEVEL: 'silent', DATABASE_POOL_MAX: '4' }), () => clock.now);
  try {
    const [ownerIn, instructorIn, managerIn] = DEMO_SIGN_INS;
    await createStudio(
      { db: app.db, now: clock.now },
      { studioName: 'Larkmoor Soap Room', timeZone: 'Europe/Lisbon', emergencyPhone: '112', isDemo: true, ...ownerIn },
    );
    const id = () => newId(clock.now.getTime());
    const stage: Stage = { clock, owner: clientOf(app), instructor: clientOf(app), manager: clientOf(app), student: () => clientOf(app), id };
    await stage.owner.post('/api/sign-in', { email: ownerIn.email, password: ownerIn.password });
    for (const { name, email, role, password } of [instructorIn, managerIn]) await stage.owner.post('/api/people', { id: id(), name, email, role, password });
    await signInAll(stage);
    const benches = await stations(stage);
    const [first, , shaving] = await recipes(stage);
    const keeper = { manager: stage.manager, id, daysFromNow };
    const scales = await cabinetScales(keeper);
    const naoh = await receive(keeper, scales.shelf, {
      substance: 'NaOH',
      lotNumber: 'QB-2291',
      purity: '99.2',
      labels: ['A-1', 'A-2'],
      sheetDays: 400,
      bestBeforeDays: 500,
      price: '31.80',
    });
    const koh = await receive(keeper, scales.shelf, {
      substance: 'KOH',
      lotNumber: 'QB-7714',
      purity: '90.4',
      labels: ['K-1'],
      sheetDays: 1300,
      bestBeforeDays: 35,
      price: '19.40',
    });
    await shelve(keeper, [naoh, koh]);
    await offers(keeper);
    const past = { versionId: first!, naoh, koh: null };
    await teach(stage, { ...past, title: 'Autumn beginners', startsAt: daysFromNow(-30, 10), benches: benches.slice(0, 4) }, 'Tarek');
    moveTo(clock, daysFromNow(-28, 9));
    await count(stage, 1, 'A-1');
    const second = await teach(stage, { ...past, title: 'Saturday beginners', startsAt: daysFromNow(-9, 10), benches }, 'Mira');
    clock.forward(30);
    await notesOf(stage, second.id, (days) => daysFromNow(days, 8).slice(0, 10));
    moveTo(clock, daysFromNow(-7, 9));
    await checkScales(stage, benches, ['1000.1 g', '999.8 g', '1001 g', '1000 g', '1001 g']);
    await discardJars(stage, 'Autumn beginners');
    await count(stage, 3, 'A-2');
    moveTo(clock, daysFromNow(-3, 9));
    await lateErrand(keeper, koh.containerIds[0]!, scales.fine);
    moveTo(clock, new Date().toISOString());
    await signInAll(stage);
    await latestNote(stage);
    const tomorrow = await prepare(stage, {
      title: 'Shaving soap evening',
      startsAt: daysFromNow(1, 17),
      versionId: shaving!,
      naoh,
      koh,
      benches: benches.slice(0, 4),
    });
    await stage.instructor.post(`/api/classes/${tomorrow.id}/publish`);
    await lookAhead(stage, tomorrow.id, second.id);
    log('Made the demo studio "Larkmoor Soap Room".');
  } finally {
    await app.close();
  }
}
