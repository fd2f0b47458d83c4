import type { Context } from '../../request-context.ts';
import * as store from './store.ts';

export { CHANNEL, lastSeq, since } from './store.ts';

/** Announces what happened, in the transaction it happened in. Call it last: it holds the studio's event counter. */
export async function announce(context: Context, event: Partial<store.NewEvent> & { kind: string }): Promise<void> {
  await store.append(context.tx, context.studio.id, { classId: null, classStationId: null, subjectId: null, ...event }, context.now);
}
