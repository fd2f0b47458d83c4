import type { CancelClass, CopyClass, MoveClass } from '@ashwater/contracts';
import type { z } from 'zod';
import { newCode, newId } from '../../ids.ts';
import { DomainProblem } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { lockRoom } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import { getRecipe, getVersion } from '../recipes/service.ts';
import { shelfMg } from '../stock/service.ts';
import { requireClass } from './plan-service.ts';
import { setUpOf } from './station-store.ts';
import * as store from './store.ts';

const over = (act: string) => new DomainProblem('class-not-open', `This class is over; it cannot be ${act}.`);

/** Ends a class before its time. Its cards stay on record and take no more acts; caustic that is out is taken back as ever. */
export async function cancelClass(context: OrmStaffContext, id: string, { reason }: z.infer<typeof CancelClass>): Promise<{ id: string }> {
  const { tx, studio } = context;
  await requireClass(context, id);
  // An act at a station either comes before this or finds the class cancelled.
  await lockRoom(tx, id, 'stop');
  if (!(await store.markCancelled(tx, studio.id, id, reason))) throw over('cancelled');
  await audit(context, 'cancelled a class', `class:${id}`, { reason });
  await announce(context, { kind: 'class-cancelled', classId: id });
  return { id };
}

/**
 * Another day, time or room. No card is reissued for it: nothing that is weighed changes. Station page and prints show when and
 * where from the class itself; only sheets printed before still name the old day, and the page says to print them again.
 */
export async function moveClass(context: OrmStaffContext, id: string, { startsAt, room }: z.infer<typeof MoveClass>): Promise<{ id: string }> {
  const { tx, studio } = context;
  const row = await requireClass(context, id);
  if (!(await store.move(tx, studio.id, id, { startsAt: new Date(startsAt), room }))) throw over('moved');
  await audit(context, 'moved a class', `class:${id}`, { from: row.starts_at.toISOString(), to: startsAt, room });
  await announce(context, { kind: 'class-moved', classId: id });
  return { id };
}

async function newestOf(context: OrmStaffContext, versionId: string): Promise<string> {
  const { recipeId } = await getVersion(context, versionId);
  return (await getRecipe(context, recipeId)).versions[0]?.id ?? versionId;
}
/** A lot goes along while the cabinet still holds some of it. */
async function stillThere({ tx, studio }: OrmStaffContext, lotId: string | null): Promise<string | null> {
  return lotId !== null && (await shelfMg(tx, studio.id, lotId)) > 0 ? lotId : null;
}

/** The same class for another day, as a draft: same stations as they were set up, newest versions, codes of its own. */
export async function copyClass(context: OrmStaffContext, id: string, input: CopyClass): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const row = await requireClass(context, id);
  const recipeVersionId = input.recipeVersionId ?? (await newestOf(context, row.recipe_version_id));
  await getVersion(context, recipeVersionId);
  const stations: store.StationInput[] = [];
  for (const [position, station] of row.stations.entries())
    stations.push({
      id: newId(now.getTime()),
      stationId: station.station_id,
      name: station.name,
      position,
      recipeVersionId: station.recipe_version_id && (await newestOf(context, station.recipe_version_id)),
      joinCode: newCode(),
      ...setUpOf(station),
    });
  await store.insert(tx, studio.id, {
    id: input.id,
    title: row.title,
    startsAt: new Date(input.startsAt),
    room: row.room,
    recipeVersionId,
    naohLotId: await stillThere(context, row.naoh_lot_id),
    kohLotId: await stillThere(context, row.koh_lot_id),
    sparePercent: row.spare_percent,
    stations,
    joinCode: newCode(),
    at: now,
    by: actor.id,
  });
  await audit(context, 'copied a class', `class:${input.id}`, { from: id });
  return { id: input.id };
}
