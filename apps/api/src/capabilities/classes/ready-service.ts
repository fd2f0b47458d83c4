import type { ClassCheckIn, ClassOut, ReadyItem } from '@ashwater/contracts';
import type { z } from 'zod';
import { DomainProblem, inputRefused } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { overdueFollowUps, unreviewedOf } from '../incidents/service.ts';
import { dayIn } from '../../days.ts';
import { announce } from '../live/service.ts';
import { BLOCKING, checklist } from './checklist.ts';
import { requireClass } from './plan-service.ts';
import type { Prepared } from './plan-service.ts';
import { classBefore, insertClassCheck, latestChecks, seatsTaken } from './ready-store.ts';
import type { ClassRow } from './store.ts';

type Known = Pick<ClassOut, 'readiness' | 'stock' | 'totals'> & { prepared: readonly Prepared[] };
export async function checklistOf(context: OrmStaffContext, row: ClassRow, { prepared, ...known }: Known): Promise<ReadyItem[]> {
  const { tx, studio, now } = context;
  const before = await classBefore(tx, studio.id, row.starts_at);
  return checklist({
    ...known,
    classId: row.id,
    stations: prepared.length,
    scales: {
      faults: prepared.filter(({ checks }) => checks.faults.length > 0).length,
      notes: prepared.filter(({ checks }) => checks.notes.length > 0).length,
    },
    potsUnknown: prepared.filter(({ setUp }) => setUp.potMaterial === null).map(({ station }) => station.name),
    seatsTaken: await seatsTaken(tx, studio.id, row.id),
    sparePercent: row.spare_percent,
    before: before && { title: before.title, unreviewed: await unreviewedOf(tx, studio.id, before.id) },
    overdue: await overdueFollowUps(tx, studio.id, dayIn(studio.timeZone, now)),
    checks: await latestChecks(tx, studio.id, row.id),
    now,
  });
}

const OVER: readonly string[] = ['closed', 'cancelled'];
/** One thing a member of staff looked at, sound or wanting. What was said before stays on record; the latest holds. */
export async function recordClassCheck(context: OrmStaffContext, classId: string, input: z.infer<typeof ClassCheckIn>): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const row = await requireClass(context, classId);
  if (OVER.includes(row.status)) throw new DomainProblem('class-not-open', 'This class is over: nothing is looked at for it any more.');
  if (!input.sound && input.remark === '') throw inputRefused('/remark', 'Say what is wrong, so that it can be put right.');
  await insertClassCheck(tx, studio.id, { ...input, classId, at: now, by: actor.id });
  await audit(context, 'looked at the room', `class:${classId}`, { item: input.itemKey, sound: input.sound });
  await announce(context, { kind: 'class-checked', classId, subjectId: input.id });
  return { id: input.id };
}

/** People may publish before everything is looked at; not where ventilation or eyewash were found wanting. */
export async function refuseUnsoundRoom({ tx, studio }: OrmStaffContext, classId: string): Promise<void> {
  const checks = await latestChecks(tx, studio.id, classId);
  const wanting = BLOCKING.filter((key) => checks.get(key)?.sound === false);
  if (wanting.length === 0) return;
  const said = wanting.map((key) => `${key} (${checks.get(key)!.remark})`).join(', ');
  throw new DomainProblem('class-not-ready', `Found wanting: ${said}. Put it right, look at it again, then publish.`);
}
