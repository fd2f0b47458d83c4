import type { ClassCheckIn, ClassCheckKey } from '@ashwater/contracts';
import type { z } from 'zod';
import type { OrmTx } from '../../plugins/database/database.ts';

export type LatestCheck = { itemKey: ClassCheckKey; sound: boolean; remark: string; at: Date; byName: string };
/** The latest line of each item: it holds. */
export async function latestChecks({ orm }: OrmTx, studioId: string, classId: string): Promise<Map<string, LatestCheck>> {
  const rows = await orm.class_check.findMany({
    where: { studio_id: studioId, class_id: classId },
    orderBy: { seq: 'asc' },
    include: { account: { select: { name: true } } },
  });
  return new Map(
    rows.map((row) => [row.item_key, { itemKey: row.item_key as ClassCheckKey, sound: row.sound, remark: row.remark, at: row.at, byName: row.account.name }]),
  );
}
export async function insertClassCheck(
  { orm }: OrmTx,
  studioId: string,
  check: z.infer<typeof ClassCheckIn> & { classId: string; at: Date; by: string },
): Promise<void> {
  const { id, classId, itemKey, sound, remark, at, by } = check;
  await orm.class_check.create({ data: { studio_id: studioId, id, class_id: classId, item_key: itemKey, sound, remark, at, by } });
}

/** How many people have taken a seat and not signed out. */
export const seatsTaken = ({ orm }: OrmTx, studioId: string, classId: string): Promise<number> =>
  orm.seat.count({ where: { studio_id: studioId, class_id: classId, signed_out_at: null } });

/** The class that was held before this one. */
export async function classBefore({ orm }: OrmTx, studioId: string, startsAt: Date): Promise<{ id: string; title: string } | null> {
  return orm.studio_class.findFirst({
    where: { studio_id: studioId, starts_at: { lt: startsAt }, status: { in: ['published', 'closed'] } },
    orderBy: [{ starts_at: 'desc' }, { created_at: 'desc' }],
    select: { id: true, title: true },
  });
}
