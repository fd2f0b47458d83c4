import type { ReturnCheckOut } from '@ashwater/contracts';
import { newId } from '../../../ids.ts';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { EnteredFields } from '../entered.ts';
import { classPlace, containerPlace, errandPlace, productPlace, WASTE } from '../ledger.ts';
import { postLine } from '../ledger-store.ts';
import { readScale, scalesByKey } from '../scales/service.ts';
import { bookJars } from '../solution/service.ts';
import { PURPOSE_WORDS, returnPortion, returnWhole } from './rules.ts';
import type { Returned, Weighed } from './rules.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/**
 * Takes back what was not used, once; the rest is booked as used by the class, or as waste, in the same transaction. More than
 * went out is refused, unless the two weighings can explain it: then nothing was used, and the remark keeps what was weighed.
 */
export async function takeBack(context: StaffContext, checkOutId: string, input: ReturnCheckOut): Promise<Record<string, never>> {
  const { tx, studio, now } = context;
  const [out] = await store.checkOuts(tx, studio.id, { id: checkOutId });
  if (!out) throw notFound('The checkout');
  const entered = new EnteredFields();
  const field = out.whole ? 'gross' : 'mass';
  const backMg = entered.massMg(input[field] ?? '', `/${field}`);
  const on = await readScale(context, entered, input);
  entered.refuse();
  if (out.returnedMg !== null) refuseSecond(out);
  const scales = await scalesByKey(tx, studio.id, now);
  const weighed = (mg: number, { scaleId, scaleStepMg }: { scaleId: string | null; scaleStepMg: number }): Weighed => ({
    mg,
    scale: (scaleId === null ? undefined : scales.get(scaleId)) ?? scaleStepMg,
  });
  const back = weighed(backMg, on);
  const judged: Returned = out.whole
    ? returnWhole(weighed(out.grossMg ?? 0, out), back, { label: out.containerLabel, tareMg: out.tareMg, bookMg: out.massMg })
    : returnPortion(weighed(out.massMg, out), back, out.containerLabel);
  if (!judged.ok) throw new DomainProblem('returned-more', judged.detail, [{ pointer: `/${field}`, detail: judged.detail }]);
  const remark = [input.remark ?? '', judged.note].filter((part) => part !== '').join(' ');
  // Of two returns at the same time the second waits here and then finds the first.
  if (!(await store.insertReturn(tx, postingOf(context), { checkOutId, massMg: judged.massMg, grossMg: out.whole ? backMg : null, ...on, remark })))
    refuseSecond(out);
  await bookReturn(context, out, judged.massMg, on);
  return {};
}

function refuseSecond(out: store.CheckOutRow): never {
  const forWhom = out.purpose === 'class' ? out.classTitle : PURPOSE_WORDS[out.purpose];
  throw new DomainProblem('already-returned', `What was handed out of container ${out.containerLabel} for ${forWhom} was taken back already.`);
}

async function bookReturn(context: StaffContext, out: store.CheckOutRow, massMg: number, on: { scaleId: string | null; scaleStepMg: number }): Promise<void> {
  const usedMg = out.massMg - massMg;
  const { classId } = out;
  const from = classId === null ? errandPlace(out.id) : classPlace(classId);
  const line = { lotId: out.lotId, fromPlace: from, subjectId: out.id, reason: '', ...on };
  if (massMg > 0) await post(context, { ...line, id: newId(), kind: 'return', toPlace: containerPlace(out.containerId), massMg });
  if (usedMg > 0) await post(context, { ...line, id: newId(), kind: 'used', toPlace: classId === null ? WASTE : productPlace(classId), massMg: usedMg });
  if (classId !== null) await bookJars(context, classId);
  await audit(context, 'took caustic back', `checkout:${out.id}`, { massMg, usedMg });
  await announce(context, { kind: 'stock-changed', classId, subjectId: out.id });
}

/** Posts what the books must be able to give; that they cannot is a fault of the program. */
async function post(context: StaffContext, line: Parameters<typeof postLine>[2]): Promise<void> {
  const seq = await postLine(context.tx, postingOf(context), line);
  if (seq === undefined) throw new Error(`${line.fromPlace} holds less than the checkouts say`);
}
