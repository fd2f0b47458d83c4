import type { ToldNote } from '@ashwater/contracts';

/** What a seat did, as the service will be told. A step's number is that of the card. */
export type Deed =
  | { kind: 'reading'; cardId: string; stepNo: number; entered: string; supersedesId: string | null }
  | { kind: 'done'; cardId: string; stepNo: number }
  | { kind: 'jar'; cardId: string; stepNo: number; mass: string }
  | { kind: 'gear'; itemKey: string }
  | { kind: 'note'; told: ToldNote }
  | { kind: 'stop'; reason: string };

/** Why the service did not take an act; `code` is the problem code of the API. */
export type Refusal = { code: string; title: string; detail: string };

/** A deed with the id that was made for it on this device before anything was sent: the Idempotency-Key of every try. */
export type NewAct = {
  id: string;
  seatId: string;
  seatName: string;
  stationName: string;
  classId: string;
  /** ISO instant, by this device's clock. */
  at: string;
  /** For people: what is in the act, so that a list of unsent acts can be read and copied without the card. */
  words: string;
  deed: Deed;
};
export type Act = NewAct & { seq: number; state: 'waiting' | 'sent' | 'refused'; refusal: Refusal | null };

/** Path and body as the live pages send them, key order included: the same id with another body would be refused. */
export function requestOf({ id, classId, deed }: NewAct): { path: `/api/${string}`; body: object } {
  switch (deed.kind) {
    case 'reading':
      return { path: `/api/cards/${deed.cardId}/readings`, body: { id, stepNo: deed.stepNo, entered: deed.entered, supersedesId: deed.supersedesId } };
    case 'done':
      return { path: `/api/cards/${deed.cardId}/steps/${deed.stepNo}/done`, body: {} };
    case 'jar':
      return { path: '/api/jars', body: { id, cardId: deed.cardId, mass: deed.mass } };
    case 'gear':
      return { path: '/api/gear/confirm', body: { id, itemKey: deed.itemKey } };
    case 'note':
      return { path: '/api/notes', body: { id, ...deed.told, classId } };
    case 'stop':
      return { path: `/api/classes/${classId}/stop`, body: { id, reason: deed.reason } };
  }
}

/** The act's place on a card, where it has one. */
export const stepOfDeed = (deed: Deed): { cardId: string; stepNo: number } | null => ('stepNo' in deed ? { cardId: deed.cardId, stepNo: deed.stepNo } : null);
