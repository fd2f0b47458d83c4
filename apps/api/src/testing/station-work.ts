import type { CardOut, CardStep, ProposalOut } from '@ashwater/contracts';
import { newId } from '../ids.ts';
import { goodEntry } from './card-steps.ts';
import { ok } from './classroom.ts';
import type { Command, Kind, Off } from './station-commands.ts';
import { dressAll, room } from './station-people.ts';
import {
  addReading,
  changeSteps,
  finishStep,
  isComplete,
  isStray,
  mayAct,
  mayCheck,
  mayEnter,
  mayFinish,
  nextStep,
  takesReading,
  weighsLye,
} from './station-model.ts';
import type { Person, Station } from './station-play.ts';

/* What is done at the card, by the people there and by staff, as the property test plays it. */

/** As typed: 190 is what no step of this recipe wants; 'over' is a little too much, as a hand slips. */
const entryOf = (step: CardStep, off: Off): string =>
  off === 'no' ? goodEntry(step) : off === 'over' && step.targetMg !== null ? String(Math.ceil(step.targetMg * 1.06 + 1000) / 1000) : '190';
function stepAt(card: ReturnType<Station['cardFor']>, ahead: number): CardStep {
  const at = card.next ? card.steps.indexOf(card.next) : card.steps.length - 1;
  return card.steps[Math.min(card.steps.length - 1, Math.max(0, at + ahead))]!;
}

const RIGHT = { ahead: 0, off: 'no' as const, old: false, wrong: false };
function reading(station: Station, { by, model: seat }: Person, command: { ahead: number; off: Off; old: boolean; wrong: boolean }): Promise<void> {
  const { model } = station;
  const card = station.cardFor(command);
  const step = stepAt(card, command.ahead);
  const supersedesId = card.standingId;
  const body = { id: newId(), stepNo: step.no, entered: entryOf(step, command.off), supersedesId };
  const judge = () => {
    if (card.id !== station.card.id || !mayAct(model, seat, step.no) || !takesReading(step) || (model.standing?.id ?? null) !== supersedesId) return false;
    addReading(model, { id: body.id, entered: body.entered, by: seat });
    station.readingIds.push(body.id);
    station.accepted.reading += 1;
    return true;
  };
  return station.request('reading', { what: `reading at ${step.no}`, by, url: `/api/cards/${card.id}/readings`, body, judge }, command.wrong);
}
function finish(station: Station, { by, model: seat }: Person, command: { ahead: number; old: boolean; wrong: boolean }): Promise<void> {
  const card = station.cardFor(command);
  const { id } = card;
  const step = stepAt(card, command.ahead);
  const judge = () => {
    const may = id === station.card.id && mayFinish(station.model, seat, step.no);
    if (may) finishStep(station.model);
    return may;
  };
  return station.request('done', { what: `done ${step.no}`, by, url: `/api/cards/${id}/steps/${step.no}/done`, body: {}, judge }, command.wrong);
}
const labelOf = ({ model }: Station): number => model.steps.find((each) => each.kind === 'label')?.no ?? 0;
/** The label's number is asked when it is judged: a change of the card may take the step away. */
function jar(station: Station, by: Person['by'], seat: Person['model'] | null, command: { old: boolean; wrong: boolean }): Promise<void> {
  const { id } = station.cardFor(command);
  const judge = () => {
    const no = labelOf(station);
    const may = id === station.card.id && (seat ? mayAct(station.model, seat, no) : mayEnter(station.model, no));
    if (may) finishStep(station.model);
    return may;
  };
  const [kind, url] = seat ? ['jar', '/api/jars'] : ['paper jar', '/api/jars/from-paper'];
  return station.request(kind!, { what: kind!, by, url: url!, body: { id: newId(), cardId: id, mass: '100' }, judge }, command.wrong);
}

const isAble = (person: Person): boolean => !person.noDevice && !person.model.out && !person.model.away;
/** The person named, or else somebody who is there with a device. */
const able = (station: Station, person: Person): Person => (isAble(person) ? person : (station.people.find(isAble) ?? person));

/** A second reading of the standing reading, or of an older one. A seat that read first itself counts only with another's name. */
async function check(station: Station, person: Person, command: Omit<Extract<Command, { kind: 'check' }>, 'kind' | 'who'>): Promise<void> {
  const { model, studio } = station;
  const reader = station.people.find((each) => each !== person && isAble(each)) ?? person;
  if (command.first && weighsLye(nextStep(model))) {
    await dressAll(station, false);
    if (!model.standing?.within) await reading(station, reader, RIGHT);
  }
  const seat = person.model;
  const readingId = (command.old ? station.readingIds[0] : model.standing?.id) ?? newId();
  const staff = command.as === 'staff';
  const body = { id: newId(), entered: command.off ? '190' : (model.standing?.entered ?? '1'), ...(command.as === 'helper' ? { byName: 'Bea' } : {}) };
  const judge = () => {
    const { standing } = model;
    const self = (command.as === 'own seat' && standing?.by === seat) || (staff && standing?.by === 'assistant');
    if (!mayCheck(model, staff ? null : seat, readingId) || self) return false;
    standing!.second = body.entered === standing!.entered;
    station.accepted.check += 1;
    return true;
  };
  const [by, path] = staff ? [studio.as.assistant, 'staff-check'] : [person.by, 'check'];
  return station.request(
    `check by ${command.as}`,
    { what: `check by ${command.as}`, by, url: `/api/readings/${readingId}/${path}`, body, judge },
    command.wrong,
  );
}

/** What careful people send next, one thing after the other. */
async function proceed(station: Station, person: Person, times: number): Promise<void> {
  const { model } = station;
  for (let n = 0; n < times; n += 1) {
    const step = nextStep(model);
    if (!step) return;
    if (takesReading(step) && (model.standing?.within !== true || model.standing.second === false)) await reading(station, person, RIGHT);
    else if (weighsLye(step) && model.standing?.second === null) await check(station, person, { ...RIGHT, as: 'helper', off: false, first: false });
    // The jar is left to the next command, half the time to staff.
    else if (step.kind !== 'label') await finish(station, person, RIGHT);
    else return n === 0 && times > 3 ? jar(station, person.by, person.model, RIGHT) : undefined;
  }
}

/** Lines of a printed card from the next step on; the first that is refused ends them, what stands before it is kept. */
function paper(station: Station, command: Extract<Command, { kind: 'paper' }>): Promise<void> {
  const { model, studio } = station;
  const card = station.cardFor(command);
  const { id: cardId } = card;
  const from = card.steps.indexOf(stepAt(card, command.ahead));
  const lines = card.steps.slice(from, from + command.lines).map((step, n) => {
    const entered = takesReading(step) ? entryOf(step, n === command.lines - 1 ? command.off : 'no') : '';
    const second = weighsLye(step) && command.second !== 'none' ? { id: newId(), entered: command.second === 'good' ? entered : '190', byName: 'Bea' } : null;
    return { id: newId(), stepNo: step.no, entered, second };
  });
  const copied = (line: (typeof lines)[number]): boolean => {
    const step = nextStep(model);
    if (cardId !== station.card.id || !step || !mayEnter(model, line.stepNo)) return false;
    if (takesReading(step)) {
      addReading(model, { id: line.id, entered: line.entered, by: 'assistant' });
      station.readingIds.push(line.id);
      station.accepted.reading += 1;
      if (weighsLye(step) && model.standing!.within && line.second) {
        model.standing!.second = line.second.entered === line.entered;
        station.accepted.check += 1;
      }
    }
    const complete = isComplete(model);
    if (complete) finishStep(model);
    return complete;
  };
  const judge = () => {
    const refused = lines.findIndex((line) => !copied(line));
    const entered = refused < 0 ? lines.length : refused;
    const stopped = refused < 0 ? null : { stepNo: lines[refused]!.stepNo };
    return { status: true, body: { entered, stopped, ...(cardId === station.card.id ? { currentStepNo: nextStep(model)?.no ?? null } : {}) } };
  };
  const asked = {
    what: `paper ${lines.map((line) => line.stepNo).join()}`,
    by: studio.as.assistant,
    url: `/api/cards/${cardId}/paper`,
    body: { lines },
    judge,
  };
  return station.request('paper', { ...asked, counted: (answer) => answer.json<{ entered: number }>().entered > 0 }, command.wrong);
}

/** The instructor approves what is proposed after a reading went astray; `meanwhile`: what happened between the two. */
async function approve(station: Station, person: Person, command: Extract<Command, { kind: 'approve' }>): Promise<void> {
  const { model, studio } = station;
  const { id } = station.cardFor(command);
  if (command.stray && nextStep(model)?.caustic) await dressAll(station, true);
  if (command.stray && !isStray(model)) await reading(station, person, { ...RIGHT, off: 'over' });
  const stepNo = nextStep(model)?.no ?? 1;
  const proposed = () => studio.as.instructor.get(`/api/cards/${id}/proposal?stepNo=${stepNo}&mixed=${command.mixed}`);
  const asked = await proposed();
  const { act, basis } = asked.statusCode === 200 ? asked.json<ProposalOut>() : { act: 'accept' as const, basis: [] };
  if (command.meanwhile === 'a stop') await room(station, 'stop', false);
  if (command.meanwhile === 'a reading') await reading(station, person, { ...RIGHT, off: 'far' });
  const judge = async () => {
    if (id !== station.card.id || model.stopped || model.over || nextStep(model)?.no !== stepNo || !isStray(model)) return false;
    // What can be done is worked out elsewhere and has tests of its own; here counts that it is still what was approved.
    const now = await proposed();
    const same = now.statusCode === 200 && now.json<ProposalOut>();
    return same !== false && same.act === act && same.basis.join() === [...basis].sort().join();
  };
  const then = async () => changeSteps(model, (await ok<CardOut>(studio.as.instructor.get(`/api/cards/${id}`))).content.steps, command.mixed);
  const body = { id: newId(), stepNo, mixed: command.mixed, act, basis };
  await station.request('approve', { what: `approve ${act}`, by: studio.as.instructor, url: `/api/cards/${id}/changes`, body, judge, then }, command.wrong);
  if (command.meanwhile === 'a stop') await room(station, 'clear', false);
}

const TYPED = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf, nine bars', mouldVolumeMl: '1100' };
function amend(station: Station, command: Extract<Command, { kind: 'amend' }>): Promise<void> {
  const { model, studio, home } = station;
  const { id: cardId } = station.cardFor(command);
  const body = { id: newId(), stations: [{ classStationId: home.classStationId, cardId, ...TYPED }], reason: 'From the start again', confirm: command.confirm };
  const judge = () => !model.over && cardId === station.card.id && (command.confirm || !model.touched);
  const then = async () => {
    const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.get(`/api/classes/${home.classId}/cards`));
    station.replace(cards.find((card) => card.classStationId === home.classStationId && !card.voided)!);
    const person = station.people.find(isAble);
    for (let n = 0; command.hurry && person && n < 20 && nextStep(model)?.caustic === false; n += 1) await proceed(station, person, 1);
  };
  return station.request('amend', { what: 'amend', by: studio.as.instructor, url: `/api/classes/${home.classId}/amend`, body, judge, then }, command.wrong);
}
function classAct(station: Station, kind: 'reschedule' | 'close' | 'cancel', wrong: boolean): Promise<void> {
  const { model, studio, home } = station;
  const judge = () => {
    const may = !model.over;
    if (may && kind !== 'reschedule') model.over = kind === 'close' ? 'closed' : 'cancelled';
    return may;
  };
  const body = { reschedule: { id: newId(), startsAt: '2026-03-08T10:00:00Z', room: 'Front room' }, close: {}, cancel: { id: newId(), reason: 'No water' } }[
    kind
  ];
  const url = `/api/classes/${home.classId}/${kind === 'reschedule' ? 'move' : kind}`;
  return station.request(kind, { what: kind, by: studio.as.instructor, url, body, judge }, wrong);
}

type Doing = { [K in Kind]?: (station: Station, person: Person, command: Extract<Command, { kind: K }>) => Promise<void> };
export const workDo: Doing = {
  reading,
  done: finish,
  jar: (station, person, command) => jar(station, person.by, person.model, command),
  'paper jar': async (station, _, command) => {
    // First what stands before it, as far as it may be entered.
    if (command.enter) await paper(station, { ...command, ...RIGHT, kind: 'paper', lines: 4, second: 'good' });
    await jar(station, station.studio.as.assistant, null, command);
  },
  check: (station, person, command) => check(station, able(station, person), command),
  proceed: (station, person, { times }) => proceed(station, able(station, person), times),
  paper: (station, _, command) => paper(station, command),
  approve: (station, person, command) => approve(station, able(station, person), command),
  amend: (station, _, command) => amend(station, command),
  reschedule: (station, _, { wrong }) => classAct(station, 'reschedule', wrong),
  close: (station, _, { wrong }) => classAct(station, 'close', wrong),
  cancel: (station, _, { wrong }) => classAct(station, 'cancel', wrong),
};
