import type { Context } from '../../request-context.ts';
import { actorKey } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import * as store from './store.ts';

/** Adds a line to the studio's audit, in the transaction of what it tells of. Ids and plain facts only: no secret, no text of a note. */
export async function audit(context: Context, action: string, subject: string, detail: Record<string, string | number | boolean | null> = {}): Promise<void> {
  await store.append(context.tx, { studioId: context.studio.id, at: context.now, actor: actorKey(context.actor), action, subject, detail });
}

/** The same where no context exists yet: set-up and sign-in. */
export async function auditAs(tx: Tx, entry: store.AuditEntry): Promise<void> {
  await store.append(tx, entry);
}

export const newestLines = (context: Context) => store.newest(context.tx, context.studio.id, 500);
