import type { CardContent } from '@ashwater/contracts';
import type { Happening } from './station-history.ts';

type Steps = { no: number; caustic: boolean }[];
type Act = Extract<Happening, { what: 'act' }>;
type Card = { stationId: string; steps: Steps; gear: string[]; done: Set<number> };
/** What was seen of one person for one card since the last lapse, and whether anybody ever signed it. */
type Gear = { confirmed: Set<string>; validUntil: number | null; ever: boolean };

/**
 * Reads a class's history from the start and says of each act at a card what was wrong with it at the moment it was committed.
 * Written from what the gates promise and not from the service's code; `accounts` gives the account behind a seat, if there is one.
 */
export function auditClass(history: readonly Happening[], accounts: ReadonlyMap<string, string> = new Map()): string[] {
  const cards = new Map<string, Card>();
  const inForce = new Map<string, string>();
  const places = new Map<string, string>();
  const left = new Set<string>();
  const gear = new Map<string, Gear>();
  const faults: string[] = [];
  let stopped = false;
  let over: 'closed' | 'cancelled' | null = null;
  const gearOf = (seatId: string, cardId: string): Gear => {
    const key = `${seatId} ${cardId}`;
    if (!gear.has(key)) gear.set(key, { confirmed: new Set(), validUntil: null, ever: false });
    return gear.get(key)!;
  };
  const here = (stationId: string, cardId: string) =>
    [...places].filter(([, place]) => place === stationId).map(([id]) => ({ left: left.has(id), gear: gearOf(id, cardId) }));

  function* wrong(act: Act): Generator<string> {
    const card = cards.get(act.cardId);
    if (!card) return yield 'there is no such card';
    if (stopped) yield 'the room is stopped';
    if (over === 'cancelled' || (over === 'closed' && !act.paper)) yield `the class is ${over}`;
    if (inForce.get(card.stationId) !== act.cardId) yield 'the card was replaced';
    if (act.seatId && (left.has(act.seatId) || places.get(act.seatId) !== card.stationId)) yield 'the person is not there';
    const next = card.steps.find((step) => !card.done.has(step.no));
    if (next?.no !== act.stepNo) yield `step ${next?.no} comes first`;
    const shut = card.steps.find((step) => step.no === act.stepNo)?.caustic ? gateFault(act, card, here(card.stationId, act.cardId)) : null;
    if (shut) yield shut;
  }

  const sees: { [K in Happening['what']]?: (each: Extract<Happening, { what: K }>) => void } = {
    came: ({ seatId, stationId }) => void places.set(seatId, stationId),
    out: (each) => void left.add(each.seatId),
    stopped: () => void (stopped = true),
    cleared: () => void (stopped = false),
    closed: () => void (over = 'closed'),
    cancelled: () => void (over = 'cancelled'),
    issued: ({ cardId, stationId, content }) => {
      cards.set(cardId, { stationId, steps: content.steps, gear: content.gear.map(({ key }) => key), done: new Set() });
      inForce.set(stationId, cardId);
    },
    changed: ({ cardId, stepNo, steps, removed }) => {
      const card = cards.get(cardId)!;
      card.steps = withChange(card.steps, stepNo, steps, removed);
    },
    confirmed: ({ seatId, cardId, itemKey, atMs }) => void runOut(gearOf(seatId, cardId), atMs).confirmed.add(itemKey),
    lapsed: ({ seatId, cardId }) => {
      Object.assign(gearOf(seatId, cardId), { confirmed: new Set(), validUntil: null });
    },
    countersigned: ({ seq, seatId, cardId, atMs, validUntil, accountId }) => {
      const own = runOut(gearOf(seatId, cardId), atMs);
      if (accounts.get(seatId) === accountId) faults.push(`${seq} countersignature: the wearer signed their own gear`);
      if (own.validUntil !== null) faults.push(`${seq} countersignature: it was signed already`);
      if (!cards.get(cardId)?.gear.every((key) => own.confirmed.has(key))) faults.push(`${seq} countersignature: not every item was confirmed`);
      Object.assign(own, { validUntil, ever: true });
    },
    act: (act) => {
      for (const fault of wrong(act)) faults.push(`${act.seq} ${act.of} of step ${act.stepNo}: ${fault}`);
      if (act.of === 'step') cards.get(act.cardId)?.done.add(act.stepNo);
    },
  };
  for (const each of history) (sees[each.what] as (each: Happening) => void)(each);
  return faults;
}

/** Live: everybody who is there is signed off at that time. From paper: of those who have not left everybody ever was, and somebody was. */
function gateFault(act: Act, card: Card, here: readonly { left: boolean; gear: Gear }[]): string | null {
  if (act.paper) return here.some(({ gear }) => gear.ever) && here.every(({ gear, left }) => left || gear.ever) ? null : 'no sign-off on record';
  const present = here.filter(({ left }) => !left);
  const open = present.filter(({ gear }) => gear.validUntil !== null && act.atMs < gear.validUntil && card.gear.every((key) => gear.confirmed.has(key)));
  return present.length > 0 && open.length === present.length ? null : `${present.length - open.length} of ${present.length} people are not signed off`;
}
/** A sign-off that ran out takes what was confirmed with it. */
function runOut(own: Gear, atMs: number): Gear {
  if (own.validUntil !== null && atMs >= own.validUntil) Object.assign(own, { confirmed: new Set(), validUntil: null });
  return own;
}
const withChange = (before: Steps, stepNo: number, added: CardContent['steps'], removed: number[]): Steps =>
  before.flatMap((step) => [step, ...(step.no === stepNo ? added : [])]).filter((step) => !removed.includes(step.no));
