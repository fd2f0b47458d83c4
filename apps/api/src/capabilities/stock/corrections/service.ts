import { REVERSIBLE_KINDS } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { AskCorrection, AskDisposal, AskWriteOff, PlaceRef } from '@ashwater/contracts';
import { inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { EnteredFields } from '../entered.ts';
import { toExplainMg } from '../counts/store.ts';
import { bottle } from '../handing/store.ts';
import { classPlace, containerPlace, jarPlace, productPlace, UNACCOUNTED, WASTE } from '../ledger.ts';
import { holdLedger } from '../ledger-store.ts';
import { askFor } from '../requests/service.ts';
import { readScale } from '../scales/service.ts';
import { judgeAsked } from './post-service.ts';
import type { Asked } from './post-service.ts';
import * as store from './store.ts';

/** A line says with which step it was weighed; a mass that was worked out and not weighed has the finest: 1 mg. */
const NOT_WEIGHED_MG = 1;

async function ask(context: StaffContext, id: string, asked: Asked, reason: string): Promise<{ id: string }> {
  await judgeAsked(context, asked);
  return askFor(context, { id, kind: asked.kind, content: asked, reason });
}

/** Asks for the mirror of a line: same mass, the other way. The line itself stays. */
export async function askReversal(context: StaffContext, input: { id: string; seq: number; reason: string }): Promise<{ id: string }> {
  const line = await store.line(context.tx, context.studio.id, input.seq);
  if (!line) throw inputRefused('/seq', `The ledger has no line ${input.seq}.`);
  if (line.kind === 'reversal') throw inputRefused('/seq', 'This line is a reversal itself. Ask for a correction instead.');
  if (!REVERSIBLE_KINDS.includes(line.kind))
    throw inputRefused(
      '/seq',
      'A hand-out, what came back and what was used belong together. Take an open hand-out back in full, or ask for a correction of the mass that is wrong.',
    );
  const { lotId, fromPlace, toPlace, massMg, scaleStepMg, seq } = line;
  const asked = {
    kind: 'reversal' as const,
    lotId,
    fromPlace: toPlace,
    toPlace: fromPlace,
    massMg,
    scaleId: null,
    scaleStepMg,
    reversesSeq: seq,
    aboutSeq: null,
  };
  return ask(context, input.id, asked, input.reason);
}

async function placeOf({ tx, studio }: StaffContext, ref: PlaceRef, lotId: string, pointer: string): Promise<string> {
  if (ref.sort === 'waste') return WASTE;
  if (ref.id === null || !(await store.placeExists(tx, studio.id, ref.sort, ref.id, lotId)))
    throw inputRefused(pointer, ref.sort === 'container' ? 'Choose a container of this lot.' : 'Choose which one.');
  return { container: containerPlace, class: classPlace, product: productPlace, jar: jarPlace }[ref.sort](ref.id);
}

/** Asks for a mass to be moved between two places, because a line said it wrongly. */
export async function askCorrection(context: StaffContext, input: AskCorrection): Promise<{ id: string }> {
  if (!(await store.lotExists(context.tx, context.studio.id, input.lotId))) throw notFound('The lot');
  const entered = new EnteredFields();
  const massMg = entered.massMg(input.mass, '/mass');
  const on = input.scaleId || (input.scaleStep ?? '') !== '' ? await readScale(context, entered, input) : { scaleId: null, scaleStepMg: NOT_WEIGHED_MG };
  entered.refuse();
  if (massMg === 0) throw inputRefused('/mass', 'A correction of 0 g corrects nothing.');
  const fromPlace = await placeOf(context, input.from, input.lotId, '/from/id');
  const toPlace = await placeOf(context, input.to, input.lotId, '/to/id');
  if (fromPlace === toPlace) throw inputRefused('/to/id', 'It comes from there already.');
  const aboutSeq = input.aboutSeq ?? null;
  if (aboutSeq !== null && !(await store.line(context.tx, context.studio.id, aboutSeq))) throw inputRefused('/aboutSeq', `The ledger has no line ${aboutSeq}.`);
  return ask(context, input.id, { kind: 'correction', lotId: input.lotId, fromPlace, toPlace, massMg, ...on, reversesSeq: null, aboutSeq }, input.reason);
}

async function fromContainer(context: StaffContext, containerId: string, mass: string) {
  const found = await bottle(context.tx, context.studio.id, containerId);
  if (!found) throw notFound('The container');
  const entered = new EnteredFields();
  const massMg = entered.massMg(mass, '/mass');
  entered.refuse();
  if (massMg === 0) throw inputRefused('/mass', 'Nothing would be moved: the mass is 0 g.');
  return { lotId: found.lotId, place: containerPlace(containerId), massMg, scaleId: null, scaleStepMg: NOT_WEIGHED_MG, reversesSeq: null, aboutSeq: null };
}

/** Asks that what a count found missing, or found too much, leaves or enters a container's book; it stays visible as unaccounted for. */
export async function askWriteOff(context: StaffContext, input: AskWriteOff): Promise<{ id: string }> {
  const { place, ...asked } = await fromContainer(context, input.containerId, input.mass);
  const [fromPlace, toPlace] = input.direction === 'missing' ? [place, UNACCOUNTED] : [UNACCOUNTED, place];
  const countId = input.countId ?? null;
  if (countId !== null) await refuseMoreThanFound(context, countId, input, asked.massMg);
  return ask(context, input.id, { kind: 'write-off', ...asked, fromPlace, toPlace, countId }, input.reason);
}

/** A write-off that names its count never goes beyond what that count found, together with those asked for before. */
async function refuseMoreThanFound({ tx, studio }: StaffContext, countId: string, { containerId, direction }: AskWriteOff, massMg: number): Promise<void> {
  // Two at the same moment must not both see the whole difference.
  await holdLedger(tx, studio.id);
  const leftMg = await toExplainMg(tx, studio.id, countId, containerId);
  if (leftMg === undefined) throw inputRefused('/containerId', 'That count did not weigh this container. Choose one of its containers.');
  const foundMg = direction === 'missing' ? leftMg : -leftMg;
  if (foundMg <= 0)
    throw inputRefused('/direction', leftMg === 0 ? 'That count leaves nothing of this container to write off.' : 'The count found it the other way round.');
  if (massMg > foundMg) throw inputRefused('/mass', `That count leaves ${formatMass(foundMg)} of this container to write off, not ${formatMass(massMg)}.`);
}

/** Asks that caustic is disposed of: as the supplier's safety data sheet and local rules say, and two people know of it. */
export async function askDisposal(context: StaffContext, input: AskDisposal): Promise<{ id: string }> {
  const { place, ...asked } = await fromContainer(context, input.containerId, input.mass);
  return ask(context, input.id, { kind: 'disposal', ...asked, fromPlace: place, toPlace: WASTE }, input.reason);
}
