import { newId } from '../../../ids.ts';
import type { Tx } from '../../../plugins/database/database.ts';
import type { StaffContext } from '../../../request-context.ts';
import { jarPlace, productPlace, WASTE } from '../ledger.ts';
import type { LineKind } from '../ledger.ts';
import { balanceMg, postLine } from '../ledger-store.ts';
import { certifiedLot } from '../store.ts';
import { causticIn, GONE, standOf } from './contents.ts';
import * as store from './store.ts';

export { GONE, standOf } from './contents.ts';

const post = (
  context: StaffContext,
  line: { kind: LineKind; lotId: string; fromPlace: string; toPlace: string; massMg: number; scaleStepMg: number; jarId: string },
) => {
  const { jarId, ...movement } = line;
  const by = { studioId: context.studio.id, accountId: context.actor.id, at: context.now };
  return postLine(context.tx, by, { ...movement, id: newId(), subjectId: jarId, reason: '' });
};

/**
 * Books the caustic in a class's jars out of what the class used, once each. A jar whose class has not given its caustic back yet
 * waits: nothing is known to be used before then. What happened to the jar in the meantime is booked along.
 */
export async function bookJars(context: StaffContext, classId: string): Promise<void> {
  const { tx, studio } = context;
  for (const jar of await store.jars(tx, studio.id, { classId })) {
    if (jar.booked) continue;
    const parts = causticIn(jar.content, jar, jar.massMg);
    const from = productPlace(classId);
    let short = parts.length === 0;
    for (const { lotId, massMg } of parts) short ||= (await balanceMg(tx, studio.id, from, lotId)) < massMg;
    if (short) continue;
    const place = jarPlace(jar.id);
    for (const { lotId, massMg } of parts)
      await post(context, { kind: 'jarred', lotId, fromPlace: from, toPlace: place, massMg, scaleStepMg: jar.content.scaleStepMg, jarId: jar.id });
    let stand = { massMg: jar.massMg, concentrationPercent: 1, place: '', gone: false };
    for (const act of jar.acts) {
      const share = act.massMg === null ? 1 : act.massMg / stand.massMg;
      if (GONE.includes(act.kind)) await takeFromJar(context, jar.id, 'wasted', 1, classId);
      else if (act.kind === 'used') await takeFromJar(context, jar.id, 'used', share, classId);
      stand = standOf(stand, [act]);
    }
  }
}

/** The dry caustic a jar was filled with, by lot, and whether the ledger has it. */
export async function jarLots(tx: Tx, studioId: string, jarId: string) {
  const [jar] = await store.jars(tx, studioId, { jarId });
  const lots = [];
  for (const { lotId, massMg } of jar ? causticIn(jar.content, jar, jar.massMg) : []) {
    const lot = await certifiedLot(tx, studioId, lotId);
    lots.push({ substance: lot!.substance, lotNumber: lot!.lotNumber, massMg });
  }
  return { lots, booked: jar?.booked ?? false };
}

/** Books a share (0 to 1) of a jar's caustic as used or wasted. A jar the ledger does not have yet gives nothing. */
export async function takeFromJar(context: StaffContext, jarId: string, how: 'used' | 'wasted', share: number, classId: string): Promise<void> {
  const { tx, studio } = context;
  const [jar] = await store.jars(tx, studio.id, { jarId });
  const from = jarPlace(jarId);
  for (const { lotId, massMg: held } of await store.jarBalances(tx, studio.id, from)) {
    const massMg = Math.min(held, Math.round(held * share));
    if (massMg === 0) continue;
    const to = how === 'used' ? { kind: 'jar used' as const, toPlace: productPlace(classId) } : { kind: 'jar wasted' as const, toPlace: WASTE };
    await post(context, { ...to, lotId, fromPlace: from, massMg, scaleStepMg: jar!.content.scaleStepMg, jarId });
  }
}
