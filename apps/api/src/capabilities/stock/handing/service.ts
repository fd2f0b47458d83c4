import type { CheckOut, CheckOutMade, CheckOutOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { inputRefused } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { EnteredFields } from '../entered.ts';
import { askFor } from '../requests/service.ts';
import { readScale } from '../scales/service.ts';
import { readStockSettings } from '../settings/service.ts';
import { judgeHanding, judgeStand, makeCheckOut } from './make-service.ts';
import type { Handing } from './make-service.ts';
import { needsSecond, PURPOSE_WORDS } from './rules.ts';
import * as store from './store.ts';

export { makeAsked } from './make-service.ts';
export { takeBack } from './return-service.ts';

const HOUR_MS = 3_600_000;
/** Longest a hand-out may be planned to stay out, days. Ours: past it nobody remembers. */
const MOST_DAYS_OUT = 30;

/**
 * Hands caustic out of a container, or asks for it where the studio wants two people: then nothing leaves until another keeper
 * agrees. A whole container takes its whole book along.
 */
export async function checkOut(context: StaffContext, input: CheckOut): Promise<CheckOutMade> {
  const limits = await readStockSettings(context);
  const handing = await readHanding(context, input, limits.checkoutHours);
  const { bottle, forWhom } = await judgeHanding(context, handing);
  if (handing.whole) handing.massMg = bottle.bookMg;
  if (!needsSecond(handing.massMg, limits)) {
    await makeCheckOut(context, input.id, handing, null);
    return { id: input.id };
  }
  judgeStand(await store.standOf(context.tx, context.studio.id, handing.containerId), handing, bottle.label);
  const what = handing.whole ? `the whole container ${bottle.label} (${formatMass(handing.massMg)})` : `${formatMass(handing.massMg)} from ${bottle.label}`;
  const reason = `Hand out ${what} for ${forWhom}.${handing.remark === '' ? '' : ` ${handing.remark}`}`;
  await askFor(context, { id: input.id, kind: 'checkout', content: handing, reason });
  return { id: input.id, waiting: true };
}

async function readHanding(context: StaffContext, input: CheckOut, hours: number): Promise<Handing> {
  const entered = new EnteredFields();
  const whole = input.whole ?? false;
  const purpose = input.purpose ?? 'class';
  const massMg = whole ? 0 : entered.massMg(input.mass ?? '', '/mass');
  const grossMg = whole ? entered.massMg(input.gross ?? '', '/gross') : null;
  const on = await readScale(context, entered, input);
  const dueAt = input.dueAt ? new Date(input.dueAt) : new Date(context.now.getTime() + hours * HOUR_MS);
  if (dueAt <= context.now) entered.fault('/dueAt', 'It is due back at a time that is still to come.');
  else if (dueAt.getTime() - context.now.getTime() > MOST_DAYS_OUT * 24 * HOUR_MS) entered.fault('/dueAt', `It comes back within ${MOST_DAYS_OUT} days.`);
  if (purpose === 'class' && !input.classId) entered.fault('/classId', 'Choose the class that gets it.');
  if (purpose !== 'class' && input.classId) entered.fault('/classId', `Caustic for ${PURPOSE_WORDS[purpose]} goes to no class.`);
  entered.refuse();
  if (!whole && massMg === 0) throw inputRefused('/mass', 'Nothing was handed out: the mass is 0 g.');
  return {
    containerId: input.containerId,
    classId: input.classId ?? null,
    purpose,
    takenBy: input.takenBy ?? context.actor.id,
    massMg,
    whole,
    grossMg,
    ...on,
    dueAt: dueAt.toISOString(),
    remark: input.remark ?? '',
  };
}

/** What was handed out, for one class or all; what is still out first. */
export async function readCheckOuts({ tx, studio, now }: StaffContext, classId: string | undefined): Promise<CheckOutOut[]> {
  return (await store.checkOuts(tx, studio.id, { classId })).map((row) => checkOutOut(row, now));
}

function checkOutOut(row: store.CheckOutRow, now: Date): CheckOutOut {
  const { at, dueAt, returnedAt, classTitle, purpose, massMg, returnedMg } = row;
  return {
    ...row,
    classTitle: classTitle ?? (purpose === 'class' ? '' : PURPOSE_WORDS[purpose]),
    at: at.toISOString(),
    dueAt: dueAt?.toISOString() ?? null,
    overdue: returnedAt === null && dueAt !== null && dueAt < now,
    returnedAt: returnedAt?.toISOString() ?? null,
    usedMg: returnedMg === null ? null : massMg - returnedMg,
  };
}
