import type { Purpose } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { newId } from '../../../ids.ts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { classPlace, containerPlace, errandPlace } from '../ledger.ts';
import { holdLedger, postLine } from '../ledger-store.ts';
import { mayTake, PURPOSE_WORDS } from './rules.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/** A hand-out read and judged, as it is made or kept until a second person agrees. Masses in mg. */
export type Handing = {
  containerId: string;
  classId: string | null;
  purpose: Purpose;
  takenBy: string;
  /** of a portion; for a whole container what its book held when it was weighed */
  massMg: number;
  whole: boolean;
  grossMg: number | null;
  scaleId: string | null;
  scaleStepMg: number;
  dueAt: string;
  remark: string;
};

/** Refuses what cannot be handed out as things stand, and says for whom it is. */
export async function judgeHanding({ tx, studio }: StaffContext, handing: Handing): Promise<{ bottle: store.Bottle; forWhom: string }> {
  const bottle = await store.bottle(tx, studio.id, handing.containerId);
  if (!bottle) throw notFound('The container');
  const taker = await store.taker(tx, studio.id, handing.takenBy);
  if (!taker) throw notFound('The person who takes it');
  const forWhom = await judgePurpose(tx, studio.id, handing, bottle);
  if (taker.gone) throw inputRefused('/takenBy', `${taker.name} does not work here any more. Choose who takes it.`);
  if (!mayTake(handing.purpose, taker.role))
    throw inputRefused('/takenBy', `${taker.name} is ${taker.role} here and may not take caustic for ${forWhom}. The owner or the manager does.`);
  if (handing.grossMg !== null && handing.grossMg <= bottle.tareMg)
    throw inputRefused('/gross', `Container ${bottle.label} weighs ${formatMass(bottle.tareMg)} when empty. Weigh it again, full and with its lid.`);
  return { bottle, forWhom };
}

async function judgePurpose(tx: StaffContext['tx'], studioId: string, handing: Handing, bottle: store.Bottle): Promise<string> {
  if (handing.purpose !== 'class') return PURPOSE_WORDS[handing.purpose];
  const forClass = handing.classId && (await store.classById(tx, studioId, handing.classId));
  if (!forClass) throw notFound('The class');
  if (forClass.status !== 'published')
    throw new DomainProblem('class-not-open', `Class ${forClass.title} is ${forClass.status}. Caustic is handed out for a published class only.`);
  refuseOtherLot(bottle, forClass);
  return forClass.title;
}

// The class's cards were made for one lot's purity; another lot would shift the superfat without anybody seeing it.
function refuseOtherLot(bottle: store.Bottle, forClass: store.ClassRow): void {
  const planned = bottle.substance === 'NaOH' ? forClass.naohLotId : forClass.kohLotId;
  if (planned === null || planned === bottle.lotId) return;
  throw inputRefused(
    '/containerId',
    `Container ${bottle.label} holds lot ${bottle.lotNumber}; the weigh cards of ${forClass.title} were made for another lot of ${bottle.substance}. Take a container of that lot.`,
  );
}

/** Refuses what the container does not give. Judged again under the ledger's lock before anything leaves. */
export function judgeStand(stand: store.Stand, handing: Handing, label: string): void {
  const { bookMg, outMg, inHands, state } = stand;
  if (inHands) throw new DomainProblem('container-out', `Container ${label} itself is handed out. Take it back first.`);
  if (['emptied', 'rinsed', 'disposed'].includes(state)) throw new DomainProblem('container-state', `Container ${label} is ${state}: nothing is in it.`);
  if (handing.whole && outMg > 0)
    throw new DomainProblem(
      'container-out',
      `${formatMass(outMg)} from container ${label} is handed out and can still come back into it. Take that back first.`,
    );
  if (handing.whole && bookMg !== handing.massMg)
    throw new DomainProblem('container-out', `Something moved in container ${label} since it was weighed. Weigh it again and ask anew.`);
  if (bookMg >= handing.massMg && bookMg > 0) return;
  const detail = `Container ${label} holds ${formatMass(bookMg)} by the book; ${handing.whole ? 'nothing' : formatMass(handing.massMg)} cannot leave it.`;
  throw new DomainProblem('container-holds-less', handing.whole ? `By the book container ${label} is empty: there is nothing to hand out.` : detail, [
    { pointer: handing.whole ? '/containerId' : '/mass', detail },
  ]);
}

/** Hands caustic out: the checkout and its ledger line. Never more than the book says is there. */
export async function makeCheckOut(context: StaffContext, id: string, handing: Handing, requestId: string | null): Promise<void> {
  const { tx, studio } = context;
  const { bottle } = await judgeHanding(context, handing);
  await holdLedger(tx, studio.id);
  judgeStand(await store.standOf(tx, studio.id, handing.containerId), handing, bottle.label);
  await store.insertCheckOut(tx, postingOf(context), { ...handing, id, requestId });
  const { classId, massMg, scaleId, scaleStepMg, containerId } = handing;
  const seq = await postLine(tx, postingOf(context), {
    id: newId(),
    kind: 'checkout',
    lotId: bottle.lotId,
    fromPlace: containerPlace(containerId),
    toPlace: classId === null ? errandPlace(id) : classPlace(classId),
    massMg,
    scaleId,
    scaleStepMg,
    subjectId: id,
    reason: handing.remark,
    requestId,
  });
  if (seq === undefined) throw new Error(`container ${bottle.label} gave less than it holds`);
  await audit(context, 'handed caustic out', `checkout:${id}`, { massMg, containerId, classId, purpose: handing.purpose, takenBy: handing.takenBy });
  await announce(context, { kind: 'stock-changed', classId, subjectId: id });
}

/** Makes the hand-out that a second person agreed to. It has the id that its asker gave it, which is the request's own. */
export const makeAsked = (context: StaffContext, request: { id: string; content: unknown }): Promise<void> =>
  makeCheckOut(context, request.id, request.content as Handing, request.id);
