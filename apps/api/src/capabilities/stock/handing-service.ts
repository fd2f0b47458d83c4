import type { CheckOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { z } from 'zod';
import type { ReturnCheckOut } from '@ashwater/contracts';
import { newId } from '../../ids.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { EnteredFields } from './entered.ts';
import { bookJars } from './solution/service.ts';
import { classPlace, containerPlace, productPlace } from './ledger.ts';
import * as store from './handing-store.ts';
import { balanceMg, postLine } from './ledger-store.ts';
import type { Posting } from './ledger-store.ts';

const postingOf = ({ studio, actor, now }: StaffContext): Posting => ({ studioId: studio.id, accountId: actor.id, at: now });

/** Hands caustic out of a container for a published class. Never more than the book says is there. */
export async function checkOut(context: StaffContext, input: CheckOut): Promise<{ id: string }> {
  const { tx, studio } = context;
  const entered = new EnteredFields();
  const massMg = entered.massMg(input.mass, '/mass');
  const scaleStepMg = entered.scaleStepMg(input.scaleStep, '/scaleStep');
  entered.refuse();
  if (massMg === 0) throw inputRefused('/mass', 'Nothing was handed out: the mass is 0 g.');
  const bottle = await store.bottle(tx, studio.id, input.containerId);
  if (!bottle) throw notFound('The container');
  const forClass = await store.classById(tx, studio.id, input.classId);
  if (!forClass) throw notFound('The class');
  if (forClass.status !== 'published')
    throw new DomainProblem('class-not-open', `Class ${forClass.title} is ${forClass.status}. Caustic is handed out for a published class only.`);
  refuseOtherLot(bottle, forClass);
  await store.insertCheckOut(tx, postingOf(context), { ...input, massMg, scaleStepMg });
  const from = containerPlace(input.containerId);
  const seq = await postLine(tx, postingOf(context), {
    id: newId(),
    kind: 'checkout',
    lotId: bottle.lotId,
    fromPlace: from,
    toPlace: classPlace(input.classId),
    massMg,
    scaleStepMg,
    subjectId: input.id,
    reason: '',
  });
  if (seq === undefined) {
    const holdsMg = await balanceMg(tx, studio.id, from, bottle.lotId);
    const detail = `Container ${bottle.label} holds ${formatMass(holdsMg)} by the book; ${formatMass(massMg)} cannot leave it.`;
    throw new DomainProblem('container-holds-less', detail, [{ pointer: '/mass', detail }]);
  }
  await audit(context, 'handed caustic out', `checkout:${input.id}`, { massMg, containerId: input.containerId, classId: input.classId });
  await announce(context, { kind: 'stock-changed', classId: input.classId, subjectId: input.id });
  return { id: input.id };
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

/** Takes back what a class did not use, once; the rest is booked as used by the class in the same transaction. */
export async function takeBack(context: StaffContext, checkOutId: string, input: z.infer<typeof ReturnCheckOut>): Promise<Record<string, never>> {
  const { tx, studio } = context;
  const entered = new EnteredFields();
  const massMg = entered.massMg(input.mass, '/mass');
  const scaleStepMg = entered.scaleStepMg(input.scaleStep, '/scaleStep');
  entered.refuse();
  const [out] = await store.checkOuts(tx, studio.id, { id: checkOutId });
  if (!out) throw notFound('The checkout');
  // inserted first: of two returns at the same time the second waits here and then finds the first
  if (!(await store.insertReturn(tx, postingOf(context), { checkOutId, massMg, scaleStepMg })))
    throw new DomainProblem('already-returned', `What was handed out of container ${out.containerLabel} for ${out.classTitle} was taken back already.`);
  if (massMg > out.massMg) {
    const detail = `${formatMass(out.massMg)} of container ${out.containerLabel} went out; ${formatMass(massMg)} cannot come back. Weigh again without the vessel.`;
    throw new DomainProblem('returned-more', detail, [{ pointer: '/mass', detail }]);
  }
  const usedMg = out.massMg - massMg;
  const line = { lotId: out.lotId, fromPlace: classPlace(out.classId), subjectId: checkOutId, reason: '' };
  if (massMg > 0) await post(context, { ...line, id: newId(), kind: 'return', toPlace: containerPlace(out.containerId), massMg, scaleStepMg });
  if (usedMg > 0) await post(context, { ...line, id: newId(), kind: 'used', toPlace: productPlace(out.classId), massMg: usedMg, scaleStepMg });
  await bookJars(context, out.classId);
  await audit(context, 'took caustic back', `checkout:${checkOutId}`, { massMg, usedMg });
  await announce(context, { kind: 'stock-changed', classId: out.classId, subjectId: checkOutId });
  return {};
}

/** Posts what the books must be able to give; that they cannot is a fault of the program. */
async function post(context: StaffContext, line: Parameters<typeof postLine>[2]): Promise<void> {
  const seq = await postLine(context.tx, postingOf(context), line);
  if (seq === undefined) throw new Error(`${line.fromPlace} holds less than the checkouts say`);
}
