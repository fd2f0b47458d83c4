import { newId } from '../ids.ts';
import { soundDraft } from './drafts.ts';
import { ONE_PIXEL } from './fill-notes.ts';
import type { App } from './test-studio.ts';

export type Route = { method: 'GET' | 'POST' | 'PUT'; path: string };
export const routeName = ({ method, path }: Route): string => `${method} ${path}`;

/** Every route of the API's own description. */
export function describedRoutes(app: App): Route[] {
  return Object.entries(app.swagger().paths ?? {}).flatMap(([path, item]) =>
    Object.keys(item ?? {})
      .filter((key) => ['get', 'post', 'put', 'patch', 'delete'].includes(key))
      .map((key) => ({ method: key.toUpperCase() as Route['method'], path })),
  );
}

/** Ids that stand in paths and bodies: of one's own studio, of another's, or of nowhere. */
export type Ids = {
  recipe: string;
  fat: string;
  version: string;
  class: string;
  card: string;
  seat: string;
  checkOut: string;
  jar: string;
  note: string;
  picture: string;
  followUp: string;
  change: string;
  person: string;
  lot: string;
  container: string;
  file: string;
  scale: string;
  report: string;
  request: string;
  offer: string;
  station: string;
  reading: string;
  stationCode: string;
  joinCode: string;
  returnCode: string;
};
const PARAMETER: [RegExp, keyof Ids][] = [
  [/^\/api\/recipes\//, 'recipe'],
  [/^\/api\/fats\//, 'fat'],
  [/^\/api\/recipe-versions\//, 'version'],
  [/^\/api\/classes\//, 'class'],
  [/^\/api\/cards\//, 'card'],
  [/^\/api\/stations\//, 'station'],
  [/^\/api\/seats\//, 'seat'],
  [/^\/api\/checkouts\//, 'checkOut'],
  [/^\/api\/readings\//, 'reading'],
  [/^\/api\/gear\/visitors\//, 'seat'],
  [/^\/api\/lots\//, 'lot'],
  [/^\/api\/containers\//, 'container'],
  [/^\/api\/stock-files\//, 'file'],
  [/^\/api\/scales\//, 'scale'],
  [/^\/api\/balance-reports\//, 'report'],
  [/^\/api\/stock-requests\//, 'request'],
  [/^\/api\/supplier-offers\//, 'offer'],
  [/^\/api\/jars\//, 'jar'],
  [/^\/api\/notes\//, 'note'],
  [/^\/api\/note-pictures\//, 'picture'],
  [/^\/api\/follow-ups\//, 'followUp'],
  [/^\/api\/note-changes\//, 'change'],
  [/^\/api\/join\//, 'stationCode'],
  [/^\/api\/note-status\//, 'returnCode'],
  [/^\/api\/note-place\//, 'joinCode'],
];
/** The path with its parameters filled. Throws for a path it does not know, so that a new route is not left out. */
export function pathWith(path: string, ids: Ids): string {
  if (!path.includes('{')) return path;
  const known = PARAMETER.find(([start]) => start.test(path));
  if (!known) throw new Error(`say in every-route.ts which id ${path} takes`);
  return path.replace(/\{(id|code|returnCode)\}/, ids[known[1]]).replace('{stepNo}', '1');
}

const told = { kind: 'near miss', place: '', stepTitle: '', what: 'what', whatStoppedIt: '', doneAtOnce: '' };
/** What follows a note. */
function noteBodies(id: string, ids: Ids): Record<string, object> {
  const about = { classId: ids.class, cardId: ids.card, lotId: ids.lot, containerId: ids.container };
  return {
    'POST /api/notes/anonymous/pictures': { noteId: id, code: ids.joinCode, base64: ONE_PIXEL },
    'POST /api/note-status/{returnCode}/answers': { code: ids.joinCode, text: 'x' },
    'POST /api/notes/{id}/amendments': { id, text: 'x' },
    'POST /api/notes/{id}/pictures': { id, base64: ONE_PIXEL },
    'POST /api/notes/{id}/triage': { id, actual: 'none', potential: 'slight', category: 'spill', causes: ['method'], staff: false, ...about },
    'POST /api/notes/{id}/merge': { id, intoId: ids.note },
    'POST /api/notes/{id}/writer': {},
    'POST /api/follow-ups': { id, noteId: ids.note, what: 'a tray', kind: 'guard', ownerId: ids.person, dueOn: '2099-01-31' },
    'POST /api/follow-ups/{id}/acts': { id, kind: 'given', ownerId: ids.person, dueOn: '2099-01-31', remark: '' },
    'POST /api/follow-ups/{id}/changes': { id, target: 'recipe', recipeId: ids.recipe, stationId: null, stepTitle: null, words: 'a tray' },
    'POST /api/note-changes/{id}/end': {},
    'PUT /api/staff-hours': { month: '2026-01', hours: '1' },
    'POST /api/note-export': { fromDay: '2026-01-01', toDay: '2026-12-31', names: true },
    'PUT /api/note-settings': { noteKeepDays: '3650', nameKeepDays: '365' },
    'POST /api/note-settings/wall-code': {},
    'POST /api/note-settings/blank': {},
  };
}

/** Benches, classes and their cards. */
function roomBodies(id: string, ids: Ids): Record<string, object> {
  const station = { scaleStep: '1 g', scaleCapacity: '5 kg', mouldName: 'Loaf', mouldVolumeMl: '1100' };
  const aClass = {
    id,
    title: 'A class',
    startsAt: '2026-03-07T10:00:00Z',
    room: '',
    recipeVersionId: ids.version,
    naohLotId: ids.lot,
    kohLotId: null,
    stations: [{ id: newId(), stationId: ids.station, ...station }],
  };
  return {
    'POST /api/stations': { id, name: `Bench ${id}`, ...station },
    'PUT /api/stations/{id}': { name: `Bench ${id}`, ...station },
    'POST /api/stations/{id}/check-weighings': { id, scale: 'main', known: '1 kg', knownLimit: '0', shown: '1001 g' },
    'POST /api/classes': aClass,
    'PUT /api/classes/{id}': aClass,
    'POST /api/classes/{id}/amend': { id, stations: [{ classStationId: id, cardId: ids.card, ...station }], reason: 'a larger mould' },
    'POST /api/classes/{id}/checks': { id, itemKey: 'eyewash', sound: true, remark: '' },
    'POST /api/classes/{id}/cancel': { id, reason: 'nobody came' },
    'POST /api/classes/{id}/move': { id, startsAt: '2026-03-08T10:00:00Z', room: '' },
    'POST /api/classes/{id}/copy': { id, startsAt: '2026-03-14T10:00:00Z' },
    'POST /api/cards/{id}/readings': { id, stepNo: 1, entered: '1', supersedesId: ids.reading },
    'POST /api/cards/{id}/steps/{stepNo}/done': {},
    'POST /api/cards/{id}/changes': { id, stepNo: 3, mixed: true, act: 'go on', basis: [ids.reading] },
  };
}
/** People at a station and what they read. */
function floorBodies(id: string, ids: Ids): Record<string, object> {
  return {
    'POST /api/readings/{id}/check': { id, entered: '1', byName: 'Bea' },
    'POST /api/readings/{id}/staff-check': { id, entered: '1' },
    'POST /api/cards/{id}/paper': { lines: [{ id, stepNo: 1, entered: '', second: null }] },
    'POST /api/jars/from-paper': { id, cardId: ids.card, mass: '1' },
    'POST /api/gear/lapse': { id, reason: '' },
    'POST /api/gear/visitors': { id, name: 'Visitor' },
    'POST /api/gear/visitors/{id}/left': {},
    'POST /api/gear/visitors/{id}/confirm': { id, itemKey: 'goggles' },
    'POST /api/classes/{id}/people': { id, classStationId: id, name: 'Visitor', kind: 'visitor' },
    'POST /api/classes/{id}/messages': { id, text: 'Lids on' },
    'POST /api/seats/{id}/confirm': { id, itemKey: 'goggles' },
    'POST /api/seats/{id}/sign-out': {},
    'POST /api/seats/{id}/move': { id, classStationId: id },
    'POST /api/stations/{id}/bind': { id },
    'POST /api/stations/{id}/release': {},
  };
}
/** Lots, their papers and their containers. */
function lotBodies(id: string, ids: Ids): Record<string, object> {
  return {
    'POST /api/lots': {
      id,
      substance: 'NaOH',
      supplier: 'S',
      lotNumber: id,
      purityPercent: '99',
      purityUncertaintyPercent: '1',
      sdsLink: 'https://example.org',
      sdsRevisedOn: null,
      scaleStep: '1',
      containers: [{ id: newId(), label: id, gross: '1000', tare: '1' }],
    },
    'POST /api/stock-files': { id, name: 'sheet.pdf', base64: Buffer.from('%PDF-1.7 invented').toString('base64') },
    'POST /api/lots/{id}/papers': { id, kind: 'certificate', link: '', fileId: ids.file, revisedOn: null },
    'POST /api/containers/{id}/acts': { id, kind: 'moved', remark: 'top shelf' },
    'POST /api/containers/{id}/transfers': { id, toContainerId: ids.container, newContainer: null, mass: '1', scaleStep: '1' },
    'POST /api/containers/{id}/uptakes': { id, gross: '1', reason: 'lid found open', scaleStep: '1' },
  };
}
/** Scales, limits and what became of a class's caustic. */
function scaleBodies(id: string): Record<string, object> {
  return {
    'POST /api/scales': { id, name: `Scale ${id}`, step: '1', capacity: '5 kg' },
    'POST /api/scales/{id}/retire': {},
    'POST /api/scales/{id}/checks': { id, known: '1 kg', knownLimit: '0', shown: '1001' },
    'PUT /api/stock-settings': {
      sdsDays: '1095',
      storageLimit: '25 kg',
      twoPersonOver: '1 kg',
      twoPersonKeys: false,
      checkoutHours: '12',
      currency: 'EUR',
      jarDays: '14',
    },
    'POST /api/classes/{id}/differences': { id, substance: 'NaOH', kind: 'weighing', mass: '1', remark: '' },
  };
}
/** The books: reports, what takes two people, offers, deliveries as a file. */
function bookBodies(id: string, ids: Ids): Record<string, object> {
  const offer = {
    supplier: 'S',
    substance: 'NaOH',
    product: '',
    pack: '25 kg',
    price: '45',
    freight: '0',
    minimumPacks: '1',
    purityPercent: '99',
    leadDays: '7',
  };
  const place = { from: { sort: 'container', id: ids.container }, to: { sort: 'waste', id: null } };
  return {
    'POST /api/balance-reports': { id, fromDay: '2026-01-01', toDay: '2026-01-31' },
    'POST /api/balance-reports/{id}/sign': {},
    'POST /api/stock-requests/reversal': { id, seq: 1, reason: 'twice' },
    'POST /api/stock-requests/correction': { id, lotId: ids.lot, ...place, mass: '1', reason: 'a wrong figure' },
    'POST /api/stock-requests/write-off': { id, containerId: ids.container, direction: 'missing', mass: '1', reason: 'not found' },
    'POST /api/stock-requests/disposal': { id, containerId: ids.container, mass: '1', reason: 'a wet lump' },
    'POST /api/stock-requests/{id}/decide': { outcome: 'refused', remark: '' },
    'POST /api/supplier-offers': { id, ...offer },
    'POST /api/supplier-offers/{id}/retire': {},
    'POST /api/lots/import': { csv: '' },
  };
}
/** A readable body for every write, with `ids` wherever a body names something. */
export function bodyFor(route: Route, ids: Ids): object | undefined {
  if (route.method === 'GET') return undefined;
  const id = newId();
  const bodies: Record<string, object> = {
    ...roomBodies(id, ids),
    ...floorBodies(id, ids),
    ...bookBodies(id, ids),
    ...lotBodies(id, ids),
    ...scaleBodies(id),
    'POST /api/setup': {
      code: 'WRONG',
      studioName: 'X',
      timeZone: 'UTC',
      emergencyPhone: '112',
      name: 'X',
      email: 'x@example.org',
      password: 'a b c d e f g h i j',
    },
    'POST /api/sign-in': { email: 'nobody@example.org', password: 'x' },
    'POST /api/sign-out': {},
    'POST /api/people': { id, name: 'New', email: `${id}@example.org`, role: 'assistant', password: 'four quiet green kettles' },
    'POST /api/recipes': { id, draft: soundDraft() },
    'PUT /api/recipes/{id}': { revision: 1, draft: soundDraft() },
    'POST /api/recipes/{id}/versions': { id, revision: 1 },
    'POST /api/fats': {
      id,
      name: `Fat ${id}`,
      botanicalName: '',
      svLow: '180',
      svHigh: '200',
      iodineLow: '',
      iodineHigh: '',
      densityGPerMl: '',
      unsaponifiablePercent: '',
      source: 'data sheet',
      sourceOn: '2025-01-31',
    },
    'POST /api/fats/{id}/retire': {},
    'POST /api/classes/{id}/publish': {},
    'POST /api/classes/{id}/close': {},
    'POST /api/classes/{id}/stop': { id, reason: '' },
    'POST /api/classes/{id}/clear': { id, reason: '' },
    'POST /api/join': { id: ids.seat, code: ids.stationCode, name: 'Intruder' },
    'POST /api/gear/confirm': { id, itemKey: 'goggles' },
    'POST /api/seats/{id}/countersign': { id },
    'POST /api/seats/{id}/lapse': { id, reason: '' },
    'POST /api/seat/sign-out': {},
    'POST /api/checkouts': { id, containerId: ids.container, classId: ids.class, mass: '1', scaleStep: '1' },
    'POST /api/checkouts/{id}/return': { mass: '1', scaleStep: '1' },
    'POST /api/counts': { id, scaleStep: '1', lines: [{ containerId: ids.container, gross: '1' }] },
    'POST /api/jars': { id, cardId: ids.card, mass: '1' },
    'POST /api/jars/{id}/discard': { id, remark: '' },
    'POST /api/jars/{id}/acts': { id, kind: 'placed', place: 'shelf', remark: '' },
    'POST /api/notes': { ...told, id, classId: ids.class },
    'POST /api/notes/anonymous': { ...told, id, code: ids.joinCode },
    'POST /api/notes/{id}/reviews': { id, outcome: 'looked into', learned: 'x', change: '' },
    ...noteBodies(id, ids),
  };
  const body = bodies[routeName(route)];
  if (!body) throw new Error(`say in every-route.ts what ${routeName(route)} takes`);
  return body;
}
