import type { CheckOutcome } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation';
import type { Actor } from '../../actor.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { Context } from '../../request-context.ts';
import { announce } from '../live/service.ts';
import * as checks from './check-store.ts';
import { requireStep } from './progress.ts';
import { readingsAgree, sameName, stepMgOf } from './second-reading.ts';
import { openCard } from './open-card-service.ts';

const own = (detail: string) => new DomainProblem('cannot-check-own-reading', detail, [{ pointer: '/byName', detail }]);

/** Who reads the second time. Never the first person: not their seat, not their account, not their name. */
async function secondPerson({ tx, actor, studio }: Context<Tx, Actor>, first: checks.CheckedReading & { byName: string }, typed: string): Promise<string> {
  if (actor.kind === 'staff') {
    if (actor.id === first.account_id || actor.id === first.seat_account_id)
      throw own('You entered the first reading yourself. Ask somebody else to read the scale.');
    return actor.name;
  }
  const account = await checks.accountOfSeat(tx, studio.id, actor.id);
  const sameSeat = actor.id === first.seat_id || (account !== null && account === first.seat_account_id);
  if (sameSeat && typed === '') throw own(`${first.byName} read it first. Somebody else reads the scale and writes their own name.`);
  const name = typed || actor.name;
  if (sameName(name, first.byName)) throw own(`${first.byName} read it first. Somebody else reads the scale.`);
  return name;
}

export function massOf(entered: string): number {
  const mass = parseMass(entered);
  if (mass.ok) return mass.value.massMg;
  throw new DomainProblem(
    'input-refused',
    mass.problems[0]!.detail,
    mass.problems.map(({ detail, code }) => ({ pointer: '/entered', detail, code })),
  );
}

/** A second person says what the scale shows. Only afterwards are they told the first reading and the target. */
export async function checkReading(
  context: Context<Tx, Actor>,
  readingId: string,
  input: { id: string; entered: string; byName?: string | undefined },
): Promise<CheckOutcome> {
  const { tx, actor, studio, now } = context;
  const reading = await checks.readingById(tx, studio.id, readingId);
  if (!reading) throw notFound('This reading');
  const state = await openCard(context, reading.card_id);
  const standing = state.readingRows.find((row) => row.id === readingId)!;
  if (standing.superseded) throw new DomainProblem('reading-superseded', 'Another reading was entered for this step meanwhile. Read the scale for that one.');
  const step = requireStep(state, reading.step_no);
  if (standing.second === 'not needed') throw inputRefused('/entered', 'This reading needs no second one.');
  if (standing.second !== 'needed') throw new DomainProblem('already-exists', 'A second person has read the scale for this reading already.');
  const byName = await secondPerson(context, { ...reading, byName: standing.by_name }, input.byName ?? '');
  const massMg = massOf(input.entered);
  const stepMg = stepMgOf(state.row.content, step);
  const firstMg = standing.mass_mg ?? 0;
  const agrees = readingsAgree(firstMg, massMg, stepMg);
  const by = { seatId: actor.kind === 'seat' ? actor.id : null, accountId: actor.kind === 'staff' ? actor.id : null };
  await checks.insertCheck(tx, { studioId: studio.id, id: input.id, readingId, byName, ...by, entered: input.entered, massMg, agrees, at: now });
  await announce(context, { kind: 'reading-checked', classId: state.row.class_id, classStationId: state.row.class_station_id, subjectId: readingId });
  return {
    readingId,
    byName,
    entered: input.entered,
    massMg,
    agrees,
    at: now.toISOString(),
    first: { massMg: firstMg, byName: standing.by_name },
    targetMg: step.targetMg ?? 0,
    advice: agrees
      ? 'Both readings agree.'
      : 'The two readings do not agree. Empty the cup, check the tare and weigh again; then somebody else reads the scale again.',
  };
}
