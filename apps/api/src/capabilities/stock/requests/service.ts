import type { RequestKind } from '@ashwater/contracts';
import type { StaffContext } from '../../../request-context.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/** Asks for something that takes two people. Nothing happens until another keeper decides. */
export async function askFor(context: StaffContext, asked: { id: string; kind: RequestKind; content: object; reason: string }): Promise<{ id: string }> {
  const { tx } = context;
  await store.insertRequest(tx, postingOf(context), asked);
  return { id: asked.id };
}
