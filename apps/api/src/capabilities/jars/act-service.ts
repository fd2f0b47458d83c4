import type { JarDetail, RecordJarAct } from '@ashwater/contracts';
import { formatMass, parseMass } from '@ashwater/formulation';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { announce } from '../live/service.ts';
import { bookJars, jarLots, takeFromJar } from '../stock/service.ts';
import { jarOut, standNow } from './jar-view-service.ts';
import * as store from './store.ts';

async function jarToChange({ tx, studio }: StaffContext, jarId: string): Promise<store.JarRow> {
  await store.takeTurn(tx, jarId);
  const jar = await store.byId(tx, studio.id, jarId);
  if (!jar) throw notFound('This jar');
  if (standNow(jar).gone) throw new DomainProblem('jar-discarded', `Jar ${jar.number} is gone already.`);
  return jar;
}

type Act = Omit<store.NewJarAct, 'studioId' | 'jarId' | 'accountId' | 'at'>;
async function keep(context: StaffContext, jar: store.JarRow, act: Act, action: string): Promise<void> {
  const { tx, studio, actor, now } = context;
  await bookJars(context, jar.class_id);
  await store.insertAct(tx, { ...act, studioId: studio.id, jarId: jar.id, accountId: actor.id, at: now });
  if (act.kind === 'used') await takeFromJar(context, jar.id, 'used', (act.massMg ?? 0) / standNow(jar).massMg, jar.class_id);
  if (['discarded', 'neutralised', 'disposed'].includes(act.kind)) await takeFromJar(context, jar.id, 'wasted', 1, jar.class_id);
  await audit(context, action, `jar:${jar.id}`, { kind: act.kind, massMg: act.massMg });
  await announce(context, { kind: act.kind === 'discarded' ? 'jar-discarded' : 'stock-changed', subjectId: jar.id });
}

export async function discardJar(context: StaffContext, jarId: string, input: { id: string; remark: string }): Promise<Record<string, never>> {
  const jar = await jarToChange(context, jarId);
  await keep(context, jar, { id: input.id, kind: 'discarded', remark: input.remark, massMg: null, place: null }, 'discarded a jar');
  return {};
}

/** What a jar could be topped up to: past this it is a mistyped figure. */
const MOST_TOP_UP = 10;

/**
 * What became of a jar: put somewhere, used from, topped up with water, neutralised, handed to disposal. Nothing is used from a
 * jar past its discard date, and never more than is in it. Topping up does not make a jar younger.
 */
export async function recordJarAct(context: StaffContext, jarId: string, input: RecordJarAct): Promise<Record<string, never>> {
  const jar = await jarToChange(context, jarId);
  const { massMg, place } = readAct(input, jar);
  if (input.kind === 'used' && jarOut(jar, context.studio, context.now).state !== 'in date')
    throw new DomainProblem(
      'jar-past-date',
      `Jar ${jar.number} is past its discard date (${jar.discard_on}). It is not used any more: neutralise it or hand it to disposal.`,
    );
  await keep(context, jar, { id: input.id, kind: input.kind, remark: input.remark, massMg, place }, 'recorded what became of a jar');
  return {};
}

function readAct(input: RecordJarAct, jar: store.JarRow): { massMg: number | null; place: string | null } {
  if (input.kind === 'placed') {
    const place = input.place?.trim() ?? '';
    if (place === '') throw inputRefused('/place', 'Say where the jar stands from now on, such as: cabinet, lower shelf.');
    return { massMg: null, place };
  }
  if (input.kind !== 'used' && input.kind !== 'topped') return { massMg: null, place: null };
  const mass = parseMass(input.mass ?? '');
  if (!mass.ok) throw inputRefused('/mass', mass.problems[0]!.detail);
  const { massMg } = mass.value;
  if (massMg <= 0) throw inputRefused('/mass', input.kind === 'used' ? 'Enter how much was taken out.' : 'Enter how much water was added.');
  const { massMg: inside } = standNow(jar);
  if (input.kind === 'used' && massMg > inside)
    throw inputRefused('/mass', `Jar ${jar.number} holds ${formatMass(inside)} by the book; ${formatMass(massMg)} cannot leave it.`);
  if (input.kind === 'topped' && massMg > inside * MOST_TOP_UP)
    throw inputRefused('/mass', `${formatMass(massMg)} of water onto ${formatMass(inside)} of solution: check the figure.`);
  return { massMg, place: null };
}

/** A jar with its lots and everything that was done with it. */
export async function readJar({ tx, studio, now }: StaffContext, jarId: string): Promise<JarDetail> {
  const jar = await store.byId(tx, studio.id, jarId);
  if (!jar) throw notFound('This jar');
  const acts = await store.acts(tx, studio.id, jarId);
  return { ...jarOut(jar, studio, now), ...(await jarLots(tx, studio.id, jarId)), acts: acts.map((act) => ({ ...act, at: act.at.toISOString() })) };
}
