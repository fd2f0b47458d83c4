import { formatMass } from '@ashwater/formulation';
import { newId } from '../../../ids.ts';
import { DomainProblem } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { standOf } from '../handing/store.ts';
import { BOUNDLESS, idsInPlaces, placeInWords } from '../ledger.ts';
import type { LineKind } from '../ledger.ts';
import { balanceMg, holdLedger, placeNames, postLine } from '../ledger-store.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/** A movement as it was asked for and is posted when approved. Masses in mg. */
export type Asked = {
  kind: Extract<LineKind, 'reversal' | 'correction' | 'write-off' | 'disposal'>;
  lotId: string;
  fromPlace: string;
  toPlace: string;
  massMg: number;
  scaleId: string | null;
  scaleStepMg: number;
  /** the line that a reversal mirrors */
  reversesSeq: number | null;
  /** the line that a correction is about */
  aboutSeq: number | null;
  /** the count that found what is written off */
  countId?: string | null;
};

const named = async ({ tx, studio }: StaffContext, places: string[]) => {
  const names = await placeNames(tx, studio.id, idsInPlaces(places));
  return places.map((place) => placeInWords(place, names));
};

/** Refuses what the books cannot give as they stand. Asked before a request is kept, and again under the ledger's lock when it is approved. */
export async function judgeAsked(context: StaffContext, asked: Asked): Promise<void> {
  const { tx, studio } = context;
  if (asked.reversesSeq !== null) {
    const line = await store.line(tx, studio.id, asked.reversesSeq);
    if (line?.reversedBy) throw new DomainProblem('already-reversed', `Line ${asked.reversesSeq} was reversed already, by line ${line.reversedBy}.`);
  }
  for (const place of [asked.fromPlace, asked.toPlace]) await refuseContainer(context, asked, place);
  if (BOUNDLESS.includes(asked.fromPlace)) return;
  const holdsMg = await balanceMg(tx, studio.id, asked.fromPlace, asked.lotId);
  // What is in a class's hands comes back or is used by its own hand-out: a correction that took it would leave that one short.
  const inHandsMg = await store.inHandsMg(tx, studio.id, asked.fromPlace, asked.lotId);
  if (holdsMg - inHandsMg >= asked.massMg) return;
  const [from] = await named(context, [asked.fromPlace]);
  const hands = inHandsMg === 0 ? '' : `, of which ${formatMass(inHandsMg)} is handed out and not taken back yet`;
  const detail = `${from} holds ${formatMass(holdsMg)} by the book${hands}; ${formatMass(asked.massMg)} cannot leave it.${hands && ' Take it back first.'}`;
  throw new DomainProblem('container-holds-less', detail, [{ pointer: '/mass', detail }]);
}

/** A container that is itself in somebody's hands is not booked about, and nothing is booked into one that is gone. */
async function refuseContainer(context: StaffContext, asked: Asked, place: string): Promise<void> {
  const [sort, id = ''] = place.split(':');
  if (sort !== 'container') return;
  const stand = await standOf(context.tx, context.studio.id, id);
  const gone = place === asked.toPlace && ['rinsed', 'disposed'].includes(stand.state);
  if (!stand.inHands && !gone) return;
  const [name] = await named(context, [place]);
  if (stand.inHands) throw new DomainProblem('container-out', `${name} itself is handed out. Take it back first.`);
  const detail = `${name} is ${stand.state}: nothing can be in it. Choose where the caustic really is.`;
  throw new DomainProblem('container-state', detail, [{ pointer: '/to/id', detail }]);
}

/** Posts what a second person approved. It is judged anew: the books may have moved since it was asked for. */
export async function postAsked(context: StaffContext, request: { id: string; content: unknown; reason: string }): Promise<void> {
  const { tx, studio } = context;
  const { aboutSeq, countId: _, ...asked } = request.content as Asked;
  await holdLedger(tx, studio.id);
  await judgeAsked(context, { ...asked, aboutSeq });
  const about = aboutSeq === null ? '' : ` (about line ${aboutSeq})`;
  const line = { ...asked, id: newId(), subjectId: request.id, reason: `${request.reason}${about}`, requestId: request.id };
  const seq = await postLine(tx, postingOf(context), line);
  if (seq === undefined) throw new Error(`${asked.fromPlace} gave less than it holds`);
}

/** What an asked movement would do, in a sentence. */
export async function wordsOfCorrection(context: StaffContext, asked: Asked, mass: string): Promise<string> {
  const [from, to] = await named(context, [asked.fromPlace, asked.toPlace]);
  if (asked.kind === 'reversal') return `Reverse line ${asked.reversesSeq}: ${mass} from ${from} back to ${to}.`;
  if (asked.kind === 'disposal') return `Dispose of ${mass} out of ${from}.`;
  if (asked.kind === 'write-off')
    return asked.toPlace === 'unaccounted' ? `Write off ${mass} that is missing from ${from}.` : `Take ${mass} that was found into the book of ${to}.`;
  return `Move ${mass} from ${from} to ${to}${asked.aboutSeq === null ? '' : `, about line ${asked.aboutSeq}`}.`;
}
