import type { ActOnContainer, BottleOut, TakeUp, Transfer } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { newId } from '../../../ids.ts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { readLedger } from '../books/service.ts';
import { EnteredFields } from '../entered.ts';
import { AIR, containerPlace } from '../ledger.ts';
import { holdLedger, postLine } from '../ledger-store.ts';
import { insertContainer } from '../lots/store.ts';
import { readScale } from '../scales/service.ts';
import { containers } from '../store.ts';
import type { ContainerRow } from '../store.ts';
import { holdsCaustic, mayBe, refusalOf } from './acts.ts';
import { cautionsOf } from './cautions.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

async function requireBottle({ tx, studio }: StaffContext, id: string): Promise<ContainerRow> {
  const [found] = await containers(tx, studio.id, [id]);
  if (!found) throw notFound('The container');
  return found;
}

/** The container as it stands now and stays until this transaction ends: nothing is posted meanwhile. */
async function holdBottle(context: StaffContext, id: string): Promise<ContainerRow> {
  await holdLedger(context.tx, context.studio.id);
  return requireBottle(context, id);
}

/** Records what happened to a container. Moves no mass. */
export async function actOnContainer(context: StaffContext, containerId: string, input: ActOnContainer): Promise<{ id: string }> {
  const bottle = await holdBottle(context, containerId);
  const refusal = refusalOf(bottle.state, input.kind, bottle.label);
  if (refusal) throw new DomainProblem('container-state', refusal);
  if (input.kind === 'moved' && input.remark === '') throw inputRefused('/remark', 'Write the new place, such as: top shelf, left.');
  if (input.kind === 'emptied') refuseUnlessEmpty(bottle);
  else if (bottle.inHands && input.kind !== 'opened' && input.kind !== 'closed') refuseInHands(bottle);
  await store.insertAct(context.tx, postingOf(context), { ...input, containerId });
  await audit(context, `container ${input.kind}`, `container:${containerId}`, input.kind === 'moved' ? { place: input.remark } : {});
  await announce(context, { kind: 'stock-changed', subjectId: containerId });
  return { id: input.id };
}

function refuseInHands(bottle: ContainerRow): never {
  throw new DomainProblem('container-out', `Container ${bottle.label} itself is handed out. Take it back first.`);
}

// The book does not become empty by saying so: what is left of it was poured away or is missing, and two people say which.
function refuseUnlessEmpty({ label, balanceMg, outMg }: ContainerRow): void {
  if (outMg > 0)
    throw new DomainProblem('container-out', `${formatMass(outMg)} from container ${label} is handed out and can still come back. Take it back first.`);
  if (balanceMg > 0)
    throw new DomainProblem(
      'container-not-empty',
      `By the book ${formatMass(balanceMg)} is still in container ${label}. If it was thrown away, ask for a disposal of that mass; if it is missing, ask for a write-off. When a second person has approved, record it as emptied.`,
    );
}

/** Puts caustic from one container into another of the same lot, or into a new one. Never more than the book says is there. */
export async function transfer(context: StaffContext, fromId: string, input: Transfer): Promise<{ id: string }> {
  const from = await holdBottle(context, fromId);
  if (from.inHands) refuseInHands(from);
  const entered = new EnteredFields();
  const on = await readScale(context, entered, input);
  const { massMg, toId, weighed } = input.newContainer ? readNew(entered, input.newContainer) : await readOther(context, entered, from, input);
  entered.refuse();
  if (weighed) await insertContainer(context.tx, postingOf(context), { id: toId, lotId: from.lotId, ...weighed, ...on });
  const line = { id: newId(), kind: 'transfer', lotId: from.lotId, massMg, ...on, subjectId: input.id, reason: '' } as const;
  const seq = await postLine(context.tx, postingOf(context), { ...line, fromPlace: containerPlace(from.id), toPlace: containerPlace(toId) });
  if (seq === undefined) refuseMore(from, massMg, weighed ? '/newContainer/gross' : '/mass');
  await audit(context, 'put caustic into another container', `container:${from.id}`, { massMg, toContainerId: toId });
  await announce(context, { kind: 'stock-changed', subjectId: from.id });
  return { id: input.id };
}

function refuseMore(from: ContainerRow, massMg: number, pointer: string): never {
  const detail = `Container ${from.label} holds ${formatMass(from.balanceMg)} by the book; ${formatMass(massMg)} cannot leave it.`;
  throw new DomainProblem('container-holds-less', detail, [{ pointer, detail }]);
}

/** Where it goes; `weighed` for a new container only. */
type Target = { toId: string; massMg: number; weighed?: { label: string; grossMg: number; tareMg: number } };
function readNew(entered: EnteredFields, { id, label, gross, tare }: NonNullable<Transfer['newContainer']>): Target {
  const before = entered.faults.length;
  const [grossMg, tareMg] = [entered.massMg(gross, '/newContainer/gross'), entered.massMg(tare, '/newContainer/tare')];
  if (entered.faults.length === before && grossMg <= tareMg)
    entered.fault('/newContainer/gross', `Filled it weighs ${formatMass(grossMg)}, empty ${formatMass(tareMg)}: nothing would be in it. Check both.`);
  return { toId: id, massMg: grossMg - tareMg, weighed: { label, grossMg, tareMg } };
}

async function readOther(context: StaffContext, entered: EnteredFields, from: ContainerRow, input: Transfer): Promise<Target> {
  const before = entered.faults.length;
  const massMg = entered.massMg(input.mass ?? '', '/mass');
  if (entered.faults.length === before && massMg === 0) entered.fault('/mass', 'Nothing was put over: the mass is 0 g.');
  if (input.toContainerId === null) {
    entered.fault('/toContainerId', 'Choose the container that it went into, or a new one.');
    return { toId: '', massMg };
  }
  const to = await requireBottle(context, input.toContainerId);
  if (to.id === from.id) entered.fault('/toContainerId', 'Choose another container than the one it came from.');
  else if (to.lotId !== from.lotId)
    entered.fault('/toContainerId', `Container ${to.label} holds lot ${to.lotNumber}; lots are never mixed: each has its own purity.`);
  else if (!holdsCaustic(to.state))
    entered.fault('/toContainerId', `Container ${to.label} is ${to.state}. It may be wet, and wet caustic heats up: take a dry one.`);
  else if (to.inHands) entered.fault('/toContainerId', `Container ${to.label} itself is handed out.`);
  return { toId: to.id, massMg };
}

/** Books what a container gained from the air, up to what the scale shows. Explains a gain; it never makes up for a loss. */
export async function takeUp(context: StaffContext, containerId: string, input: TakeUp): Promise<{ id: string }> {
  const bottle = await holdBottle(context, containerId);
  if (bottle.outMg > 0)
    throw new DomainProblem('container-out', `${formatMass(bottle.outMg)} from container ${bottle.label} is handed out. Take it back first, then weigh.`);
  if (!holdsCaustic(bottle.state))
    throw new DomainProblem('container-state', `Container ${bottle.label} is ${bottle.state}: there is nothing in it that could gain.`);
  const entered = new EnteredFields();
  const on = await readScale(context, entered, input);
  const before = entered.faults.length;
  const grossMg = entered.massMg(input.gross, '/gross');
  const gainMg = grossMg - bottle.tareMg - bottle.balanceMg;
  const whole = input.mass === undefined || input.mass.trim() === '';
  const massMg = whole ? gainMg : entered.massMg(input.mass!, '/mass');
  if (entered.faults.length === before) {
    if (gainMg <= 0)
      entered.fault(
        '/gross',
        `By the book container ${bottle.label} weighs ${formatMass(bottle.tareMg + bottle.balanceMg)}; ${formatMass(grossMg)} is no gain.`,
      );
    // Twice its mass is no damp caustic: a slip of a key, or something else was filled in. The bound is ours, no source.
    else if (gainMg > bottle.balanceMg)
      entered.fault('/gross', `That would be a gain of ${formatMass(gainMg)} on ${formatMass(bottle.balanceMg)}: more than the air brings. Check the figure.`);
    else if (massMg > gainMg) entered.fault('/mass', `The scale shows a gain of ${formatMass(gainMg)}; more than that cannot be booked.`);
    else if (massMg === 0) entered.fault('/mass', 'Nothing was gained: the mass is 0 g.');
  }
  entered.refuse();
  const line = { id: newId(), kind: 'uptake', lotId: bottle.lotId, massMg, ...on, subjectId: input.id, reason: input.reason } as const;
  await postLine(context.tx, postingOf(context), { ...line, fromPlace: AIR, toPlace: containerPlace(bottle.id) });
  await audit(context, 'booked a gain from the air', `container:${bottle.id}`, { massMg, gainMg });
  await announce(context, { kind: 'stock-changed', subjectId: bottle.id });
  return { id: input.id };
}

const NEWEST_LINES = 100;
/** A container with its history, newest first, and what can be recorded of it now. */
export async function readBottle(context: StaffContext, id: string): Promise<BottleOut> {
  const { tx, studio } = context;
  const bottle = await requireBottle(context, id);
  const about = await store.about(tx, studio.id, id);
  // The ledger is for those who keep the cabinet, here as on its own page.
  const keeps = context.actor.role === 'owner' || context.actor.role === 'manager';
  const { lines } = keeps ? await readLedger(context, { containerId: id, limit: NEWEST_LINES }) : { lines: [] };
  const ofLot = await containers(tx, studio.id, await store.containerIdsOfLot(tx, studio.id, bottle.lotId));
  const counted = await store.lastCount(tx, studio.id, id);
  return {
    ...bottle,
    supplier: about!.supplier,
    receivedAt: about!.receivedAt.toISOString(),
    may: mayBe(bottle.state),
    acts: (await store.acts(tx, studio.id, id)).map((act) => ({ ...act, at: act.at.toISOString() })),
    lines,
    others: ofLot
      .filter((other) => other.id !== id && holdsCaustic(other.state) && !other.inHands)
      .map(({ label, balanceMg, id: otherId }) => ({ id: otherId, label, balanceMg })),
    lastCount: counted ? { ...counted, at: counted.at.toISOString() } : null,
    cautions: cautionsOf(bottle.substance, bottle.state),
  };
}
