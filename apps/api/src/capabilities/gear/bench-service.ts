import type { BenchOut } from '@ashwater/contracts';
import { notFound } from '../../problems/domain-problem.ts';
import type { OpenContext, StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { hashOfToken, newSeatToken, readStudio, splitToken } from '../people/service.ts';
import * as store from './bench-store.ts';

/*
 * The studio's own tablets. A bound one knows its station, and so leads to today's class there without a code; whoever
 * stands before it still joins with a name. It opens no card by itself.
 */
export async function bindDevice({ tx, actor, studio, now }: StaffContext, stationId: string, id: string): Promise<{ stationName: string; cookie: string }> {
  const stationName = await store.stationName(tx, studio.id, stationId);
  if (stationName === undefined) throw notFound('This station');
  const token = newSeatToken(studio.id);
  await store.insertDevice(tx, { studioId: studio.id, id, stationId, tokenHash: token.hash, by: actor.id, at: now });
  await audit({ tx, actor, studio, now }, 'bound a tablet', `station:${stationId}`);
  return { stationName, cookie: token.cookie };
}

/** Lets go of every tablet of a station: also of one that was lost. */
export async function releaseDevices(context: StaffContext, stationId: string): Promise<{ released: number }> {
  const { tx, studio, now } = context;
  if ((await store.stationName(tx, studio.id, stationId)) === undefined) throw notFound('This station');
  const released = await store.releaseDevices(tx, studio.id, stationId, now);
  await audit(context, 'released tablets', `station:${stationId}`, { released });
  return { released };
}

/** What a tablet is bound to, and the class at that station today. Nothing for a device that is not bound. */
export async function benchOf({ db, now }: OpenContext, cookie: string | undefined): Promise<BenchOut> {
  const token = splitToken(cookie);
  if (!token) return { station: null, today: null };
  return db.transact(token.studioId, async (tx) => {
    const studio = await readStudio(tx, token.studioId);
    const station = studio && (await store.boundStation(tx, token.studioId, hashOfToken(token.secret)));
    if (!studio || !station) return { station: null, today: null };
    const room = await store.classToday(tx, studio.id, station.id, studio.timeZone, now);
    return {
      station,
      today: room ? { classTitle: room.title, startsAt: room.starts_at.toISOString(), room: room.room, code: room.join_code } : null,
    };
  });
}
