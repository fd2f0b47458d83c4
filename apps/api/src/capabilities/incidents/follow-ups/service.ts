import type { ChangeOut, FollowUpAct, FollowUpOut, NewChange, NewFollowUp } from '@ashwater/contracts';
import { dayIn } from '../../../days.ts';
import { KEEPERS } from '../../../plugins/access.ts';
import type { Tx } from '../../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { requireNote } from '../note-of.ts';
import { standOf } from './stand.ts';
import * as store from './store.ts';

const reviews = ({ actor }: StaffContext): boolean => (KEEPERS as readonly string[]).includes(actor.role);
const changeOut = ({ followUpId: _, since, endedAt, ...change }: store.ChangeRow): ChangeOut => ({
  ...change,
  since: since.toISOString(),
  endedAt: endedAt?.toISOString() ?? null,
});

/** Follow-ups with their history: a reviewer sees all, everybody else what was given to them. */
export async function followUpsOf(context: StaffContext, only: { id?: string; noteId?: string } = {}): Promise<FollowUpOut[]> {
  const { tx, studio, actor, now } = context;
  const rows = await store.followUps(tx, studio.id, only);
  const ids = rows.map(({ id }) => id);
  const acts = Map.groupBy(await store.acts(tx, studio.id, ids), ({ followUpId }) => followUpId);
  const changes = Map.groupBy(await store.changes(tx, studio.id, { followUpIds: ids }), ({ followUpId }) => followUpId);
  const today = dayIn(studio.timeZone, now);
  const all = rows.map((row): FollowUpOut => {
    const own = acts.get(row.id) ?? [];
    const { owner, dueOn, state, doneBy } = standOf(own, today);
    return {
      id: row.id,
      noteNumber: row.noteNumber,
      noteId: reviews(context) ? row.noteId : null,
      what: row.what,
      kind: row.kind,
      owner,
      dueOn,
      state,
      doneByMe: doneBy === actor.id,
      acts: own.map(({ kind, ownerName, dueOn: due, remark, byName, at }) => ({ kind, ownerName, dueOn: due, remark, byName, at: at.toISOString() })),
      changes: (changes.get(row.id) ?? []).map(changeOut),
    };
  });
  return reviews(context) ? all : all.filter(({ owner }) => owner.id === actor.id);
}

/** States alone, for the reporter of a note. */
export async function statesOf(tx: Tx, studioId: string, noteId: string, today: string): Promise<{ what: string; state: string }[]> {
  const rows = await store.followUps(tx, studioId, { noteId });
  const acts = Map.groupBy(
    await store.acts(
      tx,
      studioId,
      rows.map(({ id }) => id),
    ),
    ({ followUpId }) => followUpId,
  );
  return rows.map(({ id, what }) => ({ what, state: standOf(acts.get(id) ?? [], today).state }));
}

/** Follow-ups that are past their day: they stand on the readiness list of the next class. */
export async function overdueFollowUps(tx: Tx, studioId: string, today: string): Promise<number> {
  const rows = await store.followUps(tx, studioId);
  const acts = Map.groupBy(
    await store.acts(
      tx,
      studioId,
      rows.map(({ id }) => id),
    ),
    ({ followUpId }) => followUpId,
  );
  return rows.filter(({ id }) => standOf(acts.get(id) ?? [], today).state === 'overdue').length;
}

/** What notes have changed and still holds: shown where it was changed, and on every card issued from then on. */
export async function changesInForce(tx: Tx, studioId: string): Promise<ChangeOut[]> {
  return (await store.changes(tx, studioId, { inForce: true })).map(changeOut);
}

/** Of those, what stands on a card of this recipe version: cautions on its steps and items of gear. */
export async function changesForCard(tx: Tx, studioId: string, recipeVersionId: string): Promise<ChangeOut[]> {
  const recipeId = await store.recipeOf(tx, studioId, recipeVersionId);
  const all = await changesInForce(tx, studioId);
  return all.filter((change) => (change.target === 'step' || change.target === 'gear') && (change.recipeId === null || change.recipeId === recipeId));
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
  if (act.kind !== 'done' && !reviews(context)) throw new DomainProblem('not-allowed', 'Only an owner or manager gives out, verifies or takes up again.');
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
