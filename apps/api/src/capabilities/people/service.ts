import type { AddPerson, Me, Role, SetUp, SignIn } from '@ashwater/contracts';
import type { Actor, Studio } from '../../actor.ts';
import { newCode, newId } from '../../ids.ts';
import type { OpenContext, OrmStaffContext, StaffContext } from '../../request-context.ts';
import { DomainProblem, inputRefused } from '../../problems/domain-problem.ts';
import { audit, auditAs } from '../audit/service.ts';
import { checkPassword, hashPassword, verifyNobody, verifyPassword } from './passwords.ts';
import { endSession, startSession } from './sessions.ts';
import * as store from './store.ts';

export { newSeatToken, readSeat, readSession, readStudio, sha256 as hashOfToken, splitToken } from './sessions.ts';

export type SignedIn = { me: Me; cookie: string };

const studioOut = (studio: Studio) => ({
  id: studio.id,
  name: studio.name,
  timeZone: studio.timeZone,
  emergencyPhone: studio.emergencyPhone,
  isDemo: studio.isDemo,
});

export function meOf(found: { actor: Actor; studio: Studio } | undefined): Me {
  if (!found) return { kind: 'nobody' };
  const { actor, studio } = found;
  return actor.kind === 'staff'
    ? { kind: 'staff', id: actor.id, name: actor.name, email: actor.email, role: actor.role, studio: studioOut(studio) }
    : { kind: 'seat', id: actor.id, name: actor.name, classId: actor.classId, classStationId: actor.classStationId, studio: studioOut(studio) };
}

/** Signs in by e-mail and password. One address may belong to several studios; then the right password, or the studio's short name, decides. */
export async function signIn({ db, now }: OpenContext, input: SignIn): Promise<SignedIn> {
  const candidates = await store.signInCandidates(db.lookUp, input.email, input.studio?.trim() || null);
  const matching: store.Candidate[] = [];
  for (const candidate of candidates) if (await verifyPassword(candidate.password_hash, input.password)) matching.push(candidate);
  if (candidates.length === 0) await verifyNobody(input.password);
  if (matching.length > 1)
    throw new DomainProblem('studio-needed', 'This address belongs to more than one studio. Give the short name of the one you want.', [
      { pointer: '/studio', detail: "Write the studio's short name." },
    ]);
  const [account] = matching;
  if (!account) throw new DomainProblem('sign-in-refused', 'E-mail or password is not right. Check both and try again.');
  return db.transact(account.studio_id, async (tx) => {
    const cookie = await startSession(tx, account.studio_id, account.account_id, now);
    await auditAs(tx, {
      studioId: account.studio_id,
      at: now,
      actor: `account:${account.account_id}`,
      action: 'signed in',
      subject: `account:${account.account_id}`,
      detail: {},
    });
    return { me: { kind: 'nobody' }, cookie };
  });
}

export async function signOut(context: StaffContext): Promise<void> {
  await endSession(context.tx, context.actor.sessionId);
}

/** True while no studio exists: the first-run set-up is open to whoever holds the console's code. */
export const setUpNeeded = async ({ db }: OpenContext): Promise<boolean> => !(await store.anyStudio(db.lookUp));

export async function setUp({ db, now }: OpenContext, expectedCode: string | undefined, input: SetUp): Promise<SignedIn> {
  if (await store.anyStudio(db.lookUp)) throw setUpAlready();
  if (!expectedCode || input.code.trim().toUpperCase() !== expectedCode.toUpperCase())
    throw new DomainProblem('setup-refused', 'The code is not the one on the console. Copy it from where the service was started.', [
      { pointer: '/code', detail: 'Not the code on the console.' },
    ]);
  return createStudio({ db, now }, { ...input, isDemo: false, onlyFirst: true });
}
const setUpAlready = () => new DomainProblem('already-set-up', 'A studio exists already. Sign in instead.');

export type StudioPlan = Omit<SetUp, 'code'> & { isDemo: boolean; onlyFirst?: boolean };

/** Makes a studio with its owner. Used by the first-run set-up and by the demo's maker. */
export async function createStudio({ db, now }: OpenContext, plan: StudioPlan): Promise<SignedIn> {
  checkPassword(plan.password, '/password');
  if (!isTimeZone(plan.timeZone)) throw inputRefused('/timeZone', 'Choose a time zone such as Europe/Lisbon.');
  const passwordHash = await hashPassword(plan.password);
  const studioId = newId(now.getTime());
  const accountId = newId(now.getTime());
  const plain =
    plan.studioName
      .toLowerCase()
      .normalize('NFKD')
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 30) || 'studio';
  // Names of other studios cannot be looked at from here; a second studio gets a mark of its own, so that equal names never meet.
  const shortName = (await store.anyStudio(db.lookUp)) ? `${plain}-${newCode(4).toLowerCase()}` : plain;
  return db.transact(studioId, async (tx) => {
    // Asked again in here, one at a time: two may hold the code and send it at the same moment.
    if (plan.onlyFirst) await store.takeSetUpTurn(tx);
    if (plan.onlyFirst && (await store.anyStudio(tx))) throw setUpAlready();
    await store.insertStudio(tx, {
      id: studioId,
      name: plan.studioName,
      shortName,
      timeZone: plan.timeZone,
      emergencyPhone: plan.emergencyPhone,
      isDemo: plan.isDemo,
      at: now,
    });
    await store.insertAccount(tx, { studioId, id: accountId, email: plan.email, name: plan.name, role: 'owner', passwordHash, at: now });
    const cookie = await startSession(tx, studioId, accountId, now);
    await auditAs(tx, { studioId, at: now, actor: `account:${accountId}`, action: 'set the studio up', subject: `studio:${studioId}`, detail: {} });
    return { me: { kind: 'nobody' }, cookie };
  });
}

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return name.length > 0;
  } catch {
    return false;
  }
}

export const listPeople = ({ tx, studio }: OrmStaffContext) => store.people(tx, studio.id);

/** A person's password is hashed before the transaction opens: hashing takes tens of milliseconds and holds no row. */
export async function preparePassword(password: string): Promise<string> {
  checkPassword(password, '/password');
  return hashPassword(password);
}

export async function addPerson(context: StaffContext, input: Omit<AddPerson, 'password'>, passwordHash: string): Promise<{ id: string }> {
  await store.insertAccount(context.tx, {
    studioId: context.studio.id,
    id: input.id,
    email: input.email,
    name: input.name,
    role: input.role satisfies Role,
    passwordHash,
    at: context.now,
  });
  await audit(context, 'added a person', `account:${input.id}`, { role: input.role });
  return { id: input.id };
}
