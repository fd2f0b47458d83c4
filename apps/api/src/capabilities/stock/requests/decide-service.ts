import type { Decide, StockRequests } from '@ashwater/contracts';
import { KEEPERS } from '../../../plugins/access.ts';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { EFFECTS, wordsOf } from './effects-service.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

/**
 * Decides on what somebody else asked for. Approving does it, in the same transaction; of two who decide at once the second is told
 * that it is decided. Nobody decides on their own request: the database holds that too.
 */
export async function decide(context: StaffContext, id: string, input: Decide): Promise<Record<string, never>> {
  const { tx, studio, actor } = context;
  const [request] = await store.requests(tx, studio.id, id);
  if (!request) throw notFound('This request');
  if (request.requestedBy === actor.id)
    throw new DomainProblem('own-request', 'You asked for this. Another keeper looks at it and decides; you cannot do both.');
  const by = postingOf(context);
  const decision = { requestId: id, requestedBy: request.requestedBy, outcome: input.outcome, remark: input.remark };
  if (request.outcome !== null || !(await store.insertDecision(tx, by, decision)))
    throw new DomainProblem('already-decided', 'Somebody has decided on this already. Look at the list again.');
  if (input.outcome === 'approved') await EFFECTS[request.kind](context, request);
  await audit(context, `${input.outcome} a request`, `request:${id}`, { kind: request.kind });
  await announce(context, { kind: 'stock-changed', subjectId: id });
  return {};
}

export async function listRequests(context: StaffContext): Promise<StockRequests> {
  const { tx, studio, actor } = context;
  const rows = await store.requests(tx, studio.id);
  const requests = [];
  for (const row of rows) {
    const { words, massMg } = await wordsOf(context, row);
    const decision = row.outcome === null ? null : { outcome: row.outcome, byName: row.deciderName!, remark: row.remark!, at: row.decidedAt!.toISOString() };
    requests.push({
      id: row.id,
      kind: row.kind,
      words,
      massMg,
      reason: row.reason,
      byName: row.byName,
      mine: row.requestedBy === actor.id,
      at: row.at.toISOString(),
      decision,
    });
  }
  return { requests, deciders: await store.deciders(tx, studio.id, KEEPERS, actor.id) };
}
