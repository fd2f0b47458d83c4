import type { JarOut } from '@ashwater/contracts';
import { formatMass, parseMass } from '@ashwater/formulation';
import type { Actor, Studio } from '../../actor.ts';
import { nextNumber } from '../../plugins/database/counter.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { inputRefused } from '../../problems/domain-problem.ts';
import type { Context, StaffContext } from '../../request-context.ts';
import { openCard, openPaperCard, requirePaperStep, requireStep, writeStepDone } from '../weigh-cards/service.ts';
import { bookJars } from '../stock/service.ts';
import { jarOut } from './jar-view-service.ts';
import { discardDay } from './shelf-life.ts';
import * as store from './store.ts';

export { discardJar, readJar, recordJarAct } from './act-service.ts';
export { numbersByCard } from './store.ts';

export async function listJars({ tx, studio, now }: StaffContext): Promise<JarOut[]> {
  return (await store.all(tx, studio.id)).map((row) => jarOut(row, studio, now));
}

export async function jarOfCard(tx: Tx, studio: Studio, cardId: string, now: Date): Promise<JarOut | null> {
  const row = await store.byCard(tx, studio.id, cardId);
  return row ? jarOut(row, studio, now) : null;
}

// More than this over what the card makes is a mistyped figure, or another jar.
const MASS_MARGIN = 1.1;
const NAMES = { naoh: 'sodium hydroxide', koh: 'potassium hydroxide' };

/** Labels the jar a station filled, and finishes the card's label step with it. */
export async function labelJar(context: Context<Tx, Actor>, input: { id: string; cardId: string; mass: string; madeAt?: string | undefined }): Promise<JarOut> {
  const fromPaper = context.actor.kind === 'staff';
  const state = fromPaper ? await openPaperCard(context as StaffContext, input.cardId) : await openCard(context, input.cardId);
  const label = state.steps.find((step) => step.kind === 'label');
  // A card whose batch is discarded has no label step any more, and then no step will do.
  const step = fromPaper ? requirePaperStep(state, label?.no ?? 0) : requireStep(state, label?.no ?? 0);
  const mass = parseMass(input.mass);
  if (!mass.ok) throw inputRefused('/mass', mass.problems[0]!.detail);
  const { content } = state.row;
  if (mass.value.massMg > content.solutionMassMg * MASS_MARGIN)
    throw inputRefused(
      '/mass',
      `This card makes about ${formatMass(Math.round(content.solutionMassMg / 1000) * 1000)} of solution. Take the jar's own weight off, and check the figure.`,
    );
  if (mass.value.massMg <= 0) throw inputRefused('/mass', 'Enter what the solution in the jar weighs.');
  const { tx, actor, studio, now } = context;
  const madeAt = input.madeAt === undefined ? now : new Date(input.madeAt);
  if (madeAt > now) throw inputRefused('/madeAt', 'This is later than now. Enter the time that is written on the card.');
  if (madeAt < state.row.issued_at) throw inputRefused('/madeAt', 'This is before the card was issued. Enter the time that is written on the card.');
  const alkalis = content.lines.flatMap((line) => (line.kind === 'naoh' || line.kind === 'koh' ? [NAMES[line.kind]] : []));
  await store.insert(tx, {
    studioId: studio.id,
    id: input.id,
    classId: state.row.class_id,
    cardId: state.row.id,
    number: `J-${String(await nextNumber(tx, studio.id, 'jar')).padStart(4, '0')}`,
    contents: `Solution of ${alkalis.join(' and ')}`,
    concentrationPercent: content.potConcentrationPercent ?? content.lyeConcentrationPercent,
    massMg: mass.value.massMg,
    at: madeAt,
    discardOn: discardDay(studio.timeZone, madeAt, studio.jarDays),
    madeBy: actor.name,
  });
  await writeStepDone(context, state, step.no);
  // A seat books nothing: its caustic comes into the ledger when the class gives back what it did not use.
  if (fromPaper) await bookJars(context as StaffContext, state.row.class_id);
  return (await jarOfCard(tx, studio, state.row.id, now))!;
}
