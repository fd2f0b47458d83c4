import { newId } from '../ids.ts';
import { callerOn } from './test-studio.ts';
import type { Command, Kind } from './station-commands.ts';
import { endSignOff, passTime, sign } from './station-model.ts';
import type { HandClock } from './clock.ts';
import type { Person, Station } from './station-play.ts';

/* What people and staff do about gear and about who is where, as the property test plays it. */

function confirmItem(station: Station, person: Person, itemKey: string, wrong: boolean): Promise<void> {
  const { model: seat } = person;
  const url = {
    visitor: `/api/gear/visitors/${person.id}/confirm`,
    added: `/api/seats/${person.id}/confirm`,
    own: '/api/gear/confirm',
  }[person.noDevice ?? 'own'];
  const by = person.noDevice === 'added' ? station.studio.as.assistant : person.by;
  const judge = () => {
    const host = station.people[0]!.model;
    const may = !seat.out && (person.noDevice !== 'visitor' || (!host.out && host.away === seat.away));
    if (may) seat.confirmed.add(itemKey);
    return may;
  };
  return station.request('confirm', { what: `${person.name} confirms ${itemKey}`, by, url, body: { id: newId(), itemKey }, judge }, wrong);
}
function countersign(station: Station, person: Person, byInstructor: boolean, wrong: boolean): Promise<void> {
  const by = byInstructor ? station.studio.as.instructor : station.studio.as.assistant;
  const judge = () => sign(station.model, person.model, byInstructor);
  return station.request(
    'countersign',
    { what: `countersign ${person.name}`, by, url: `/api/seats/${person.id}/countersign`, body: { id: newId() }, judge },
    wrong,
  );
}
/** Confirms what is missing, and has it signed where `signs` says by whom. */
async function dress(station: Station, person: Person, signs?: { byInstructor: boolean }): Promise<void> {
  for (const item of station.model.items) if (!person.model.confirmed.has(item)) await confirmItem(station, person, item, false);
  if (signs) await countersign(station, person, signs.byInstructor, false);
}

export async function dressAll(station: Station, byInstructor: boolean): Promise<void> {
  const here = station.people.filter(({ model }) => !model.out && !model.away);
  for (const each of here) await dress(station, each, { byInstructor: byInstructor && !each.model.own });
}

/** To the other station and back again. */
function move(station: Station, { id, name, model: seat }: Person, wrong: boolean): Promise<void> {
  const away = !seat.away;
  const body = { id: newId(), classStationId: (away ? station.away : station.home).classStationId };
  const judge = () => {
    if (!seat.out && seat.away !== away) {
      endSignOff(seat);
      seat.away = away;
    }
    return !seat.out;
  };
  return station.request('move', { what: `${name} moves`, by: station.studio.as.instructor, url: `/api/seats/${id}/move`, body, judge }, wrong);
}
function leave(station: Station, person: Person, bySelf: boolean, wrong: boolean): Promise<void> {
  const judge = () => (person.model.out = true);
  const [by, url] = bySelf ? [person.by, '/api/seat/sign-out'] : [station.studio.as.assistant, `/api/seats/${person.id}/sign-out`];
  return station.request(bySelf ? 'sign-out' : 'gone', { what: `${person.name} leaves`, by, url, body: {}, judge }, wrong);
}
function lapse(station: Station, person: Person, bySelf: boolean, wrong: boolean): Promise<void> {
  const judge = () => {
    const may = !bySelf || !person.model.out;
    if (may) endSignOff(person.model);
    return may;
  };
  const [by, url] = bySelf ? [person.by, '/api/gear/lapse'] : [station.studio.as.assistant, `/api/seats/${person.id}/lapse`];
  return station.request(bySelf ? 'pause' : 'lapse', { what: `${person.name} lapses`, by, url, body: { id: newId(), reason: '' }, judge }, wrong);
}

const MOST = 5;
/** Once the class is over nobody comes any more, and it is tried all the same. */
const hasRoom = ({ model }: Station): boolean => model.over !== null || model.seats.filter((seat) => !seat.out).length < MOST;
/** Somebody who has no device comes: added by the first person's device, or by staff. */
function come(station: Station, noDevice: 'visitor' | 'added', wrong: boolean): Promise<void> {
  const host = station.people[0]!;
  const person = { ...host, id: newId(), name: station.nameOfNext() };
  const away = noDevice === 'visitor' && host.model.away;
  const judge = () => !station.model.over && (noDevice === 'added' || !host.model.out);
  const { classId, classStationId } = station.home;
  const sent =
    noDevice === 'visitor'
      ? { by: host.by, url: '/api/gear/visitors', body: { id: person.id, name: person.name } }
      : {
          by: station.studio.as.assistant,
          url: `/api/classes/${classId}/people`,
          body: { id: person.id, name: person.name, classStationId, kind: 'student' },
        };
  const then = async () => station.admit(person, { away, noDevice });
  const kind = noDevice === 'visitor' ? 'visitor' : 'add';
  return station.request(kind, { what: `${person.name} comes`, ...sent, judge, then }, wrong);
}
let addresses = 0;
/** Has no key: the seat's id makes it repeatable. */
async function join(station: Station, own: boolean, wrong: boolean): Promise<void> {
  const { app, as } = station.studio;
  addresses += 1;
  const answer = await app.inject({
    method: 'POST',
    url: '/api/join',
    payload: { id: newId(), code: wrong ? 'NO-SUCH' : station.home.code, name: station.nameOfNext() },
    headers: { cookie: own ? as.instructor.cookie : '' },
    remoteAddress: `10.7.${addresses >> 8}.${addresses & 255}`,
  });
  const may = !wrong && !station.model.over;
  if ((answer.statusCode === 200) !== may) throw new Error(`join: ${answer.body}`);
  station.count('join', may);
  if (!may) return;
  const by = callerOn(app, String(answer.headers['set-cookie']).split(';')[0]!);
  station.admit({ id: answer.json<{ id: string }>().id, name: station.nameOfNext(), by, bench: station.home }, { own });
}

export function room(station: Station, kind: 'stop' | 'clear', wrong: boolean): Promise<void> {
  const by = kind === 'stop' ? station.people[0]!.by : station.studio.as.owner;
  const judge = () => {
    const does = kind === 'stop' || station.model.stopped;
    if (does) station.model.stopped = kind === 'stop';
    return does;
  };
  return station.request(kind, { what: kind, by, url: `/api/classes/${station.home.classId}/${kind}`, body: { id: newId(), reason: '' }, judge }, wrong);
}

type Doing = { [K in Kind]?: (station: Station, person: Person, command: Extract<Command, { kind: K }>, clock: HandClock) => Promise<void> | void };
export const peopleDo: Doing = {
  'confirm-one': (station, person, { wrong, who }) => confirmItem(station, person, station.model.items[who % station.model.items.length]!, wrong),
  'confirm-all': (station, person) => dress(station, person),
  'sign-off': async (station, person, { byInstructor, everybody }) => {
    if (everybody) await dressAll(station, byInstructor);
    else await dress(station, person, { byInstructor: byInstructor && !person.model.own });
  },
  countersign: (station, person, { byInstructor, wrong }) => countersign(station, person, byInstructor, wrong),
  move: (station, person, { wrong }) => move(station, person, wrong),
  'sign-out': (station, person, { wrong }) => leave(station, person, !person.noDevice, wrong),
  gone: (station, person, { wrong }) => leave(station, person, false, wrong),
  pause: (station, person, { wrong }) => lapse(station, person, !person.noDevice, wrong),
  lapse: (station, person, { wrong }) => lapse(station, person, false, wrong),
  visitor: (station, _, { wrong }) => (hasRoom(station) ? come(station, 'visitor', wrong) : undefined),
  add: (station, _, { wrong }) => (hasRoom(station) ? come(station, 'added', wrong) : undefined),
  join: (station, _, { own, wrong }) => (hasRoom(station) ? join(station, own, wrong) : undefined),
  stop: (station, _, { wrong }) => room(station, 'stop', wrong),
  clear: (station, _, { wrong }) => room(station, 'clear', wrong),
  time: (station, _, { minutes }, clock) => {
    clock.forward(minutes);
    passTime(station.model, minutes);
  },
  again: (station, _, { which }) => (station.sent.length > 0 ? station.send(station.sent[which % station.sent.length]!, 'again') : undefined),
};
