import type { ChangeOut, FollowUpAct, FollowUpOut, NewChange, NewFollowUp } from '@ashwater/contracts';
import { dayIn } from '../../../days.ts';
import type { Tx } from '../../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { isReviewer, requireNote } from '../note-of.ts';
import { standOf } from './stand.ts';
import * as store from './store.ts';

const changeOut = ({ followUpId: _, since, endedAt, ...change }: store.ChangeRow): ChangeOut => ({
  ...change,
  since: since.toISOString(),
  endedAt: endedAt?.toISOString() ?? null,
});

/** Follow-ups, each with its acts in their order and where it stands on a day of the studio's calendar. */
async function standing(tx: Tx, studioId: string, today: string, only: store.Only = {}) {
  const rows = await store.followUps(tx, studioId, only);
  const ids = rows.map(({ id }) => id);
  const acts = Map.groupBy(await store.acts(tx, studioId, ids), ({ followUpId }) => followUpId);
  return rows.map((row) => {
    const own = acts.get(row.id) ?? [];
    return { ...row, acts: own, ...standOf(own, today) };
  });
}

/** Follow-ups with their history: a reviewer sees all, everybody else what was given to them. */
export async function followUpsOf({ tx, studio, actor, now }: StaffContext, only: store.Only = {}): Promise<FollowUpOut[]> {
  const all = await standing(tx, studio.id, dayIn(studio.timeZone, now), only);
  const ids = all.map(({ id }) => id);
  const changes = Map.groupBy(await store.changes(tx, studio.id, { followUpIds: ids }), ({ followUpId }) => followUpId);
  const seen = isReviewer(actor) ? all : all.filter(({ owner }) => owner.id === actor.id);
  return seen.map(({ id, noteId, noteNumber, what, kind, owner, dueOn, state, doneBy, acts }) => ({
    ...{ id, noteNumber, what, kind, owner, dueOn, state },
    noteId: isReviewer(actor) ? noteId : null,
    doneByMe: doneBy === actor.id,
    acts: acts.map(({ kind: did, ownerName, dueOn: due, remark, byName, at }) => ({ kind: did, ownerName, dueOn: due, remark, byName, at: at.toISOString() })),
    changes: (changes.get(id) ?? []).map(changeOut),
  }));
}

/** States alone, for the reporter of notes. */
export async function statesOf(tx: Tx, studioId: string, noteIds: string[], today: string): Promise<{ what: string; state: string }[]> {
  return (await standing(tx, studioId, today, { noteIds })).map(({ what, state }) => ({ what, state }));
}

/** Follow-ups that are past their day: they stand on the readiness list of the next class. */
export async function overdueFollowUps(tx: Tx, studioId: string, today: string): Promise<number> {
  return (await standing(tx, studioId, today)).filter(({ state }) => state === 'overdue').length;
}

/** What notes have changed and still holds: shown where it was changed, and on every card issued from then on. */
export async function changesInForce(tx: Tx, studioId: string): Promise<ChangeOut[]> {
  return (await store.changes(tx, studioId, { inForce: true })).map(changeOut);
}

export async function addFollowUp(context: StaffContext, input: NewFollowUp): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await requireNote(context, input.noteId);
  if (!(await store.accountExists(tx, studio.id, input.ownerId))) throw notFound('The person');
  const by = { accountId: actor.id, at: now };
  await store.insertFollowUp(tx, studio.id, { ...input, ...by });
  await store.insertAct(tx, studio.id, input.id, { id: input.id, kind: 'given', ownerId: input.ownerId, dueOn: input.dueOn, remark: '', ...by });
  await audit(context, 'opened a follow-up', `follow-up:${input.id}`, { kind: input.kind });
  await announce(context, { kind: 'note-reviewed', subjectId: input.noteId });
  return { id: input.id };
}

async function requireOwn(context: StaffContext, id: string): Promise<FollowUpOut> {
  const [found] = await followUpsOf(context, { id });
  if (!found) throw notFound('The follow-up');
  return found;
}

/** Gives it to somebody, reports it done, looks at what was done, or takes it up again. Whoever did it never verifies it. */
export async function actOnFollowUp(context: StaffContext, id: string, act: FollowUpAct): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await store.holdFollowUp(tx, studio.id, id);
  const { state, doneByMe } = await requireOwn(context, id);
  if (act.kind !== 'done' && !isReviewer(actor)) throw new DomainProblem('not-allowed', 'Only an owner or manager gives out, verifies or takes up again.');
  const open = state === 'open' || state === 'overdue';
  if (act.kind === 'given' && !(await store.accountExists(tx, studio.id, act.ownerId))) throw notFound('The person');
  if ((act.kind === 'given' || act.kind === 'done') && !open)
    throw new DomainProblem('follow-up-state', 'This follow-up is done already. Take it up again first, if it is not.');
  if (act.kind === 'verified' && state !== 'done')
    throw new DomainProblem('follow-up-state', state === 'verified' ? 'This follow-up was verified already.' : 'Nobody has reported it done yet.');
  if (act.kind === 'verified' && doneByMe) throw new DomainProblem('second-person-needed', 'You reported it done yourself: another person has to look at it.');
  if (act.kind === 'reopened' && open) throw new DomainProblem('follow-up-state', 'This follow-up is open.');
  await store.insertAct(tx, studio.id, id, { ...act, accountId: actor.id, at: now });
  await audit(context, `follow-up ${act.kind}`, `follow-up:${id}`);
  return { id: act.id };
}

/** Says what a follow-up changed. From then on it shows on both sides. */
export async function addChange(context: StaffContext, followUpId: string, input: NewChange): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await requireOwn(context, followUpId);
  if (input.target === 'step' && !input.stepTitle) throw inputRefused('/stepTitle', 'Choose the step it stands on.');
  if (input.target === 'recipe' && input.recipeId === null) throw inputRefused('/recipeId', 'Choose the recipe that was changed.');
  if (input.target === 'station' && input.stationId === null) throw inputRefused('/stationId', 'Choose the station that was changed.');
  if (input.recipeId !== null && !(await store.targetExists(tx, studio.id, 'recipe', input.recipeId))) throw notFound('The recipe');
  if (input.stationId !== null && !(await store.targetExists(tx, studio.id, 'station', input.stationId))) throw notFound('The station');
  const stepTitle = input.target === 'step' ? input.stepTitle : null;
  await store.insertChange(tx, studio.id, followUpId, { ...input, stepTitle, accountId: actor.id, at: now });
  await audit(context, 'changed something because of a note', `follow-up:${followUpId}`, { target: input.target });
  return { id: input.id };
}

/** Ends a change: cards issued from now on do not carry it. What was, stays readable. */
export async function endChange(context: StaffContext, id: string): Promise<Record<string, never>> {
  if (!(await store.endChange(context.tx, context.studio.id, id, context.now))) throw notFound('A change in force');
  await audit(context, 'ended a change', `change:${id}`);
  return {};
}
