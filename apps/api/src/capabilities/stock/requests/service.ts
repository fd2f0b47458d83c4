import type { RequestKind } from '@ashwater/contracts';
import type { StaffContext } from '../../../request-context.ts';
import * as store from './store.ts';

/** Asks for something that takes two people. Nothing happens until another keeper decides. */
export async function askFor(context: StaffContext, asked: { id: string; kind: RequestKind; content: object; reason: string }): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await store.insertRequest(tx, { studioId: studio.id, accountId: actor.id, at: now }, asked);
  return { id: asked.id };
}
