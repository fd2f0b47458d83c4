import type { ChangeStation, CheckWeighIn, CheckWeighOut, StationIn, StationOut } from '@ashwater/contracts';
import { parseMass } from '@ashwater/formulation';
import type { Scale } from '@ashwater/formulation';
import type { z } from 'zod';
import { inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { scalesOf } from '../weigh-cards/service.ts';
import { judgeCheck } from './check-weighing.ts';
import type { Check } from './check-weighing.ts';
import { readSetUp, refuseIfAny } from './set-up.ts';
import * as store from './station-store.ts';

export const listStations = ({ tx, studio }: OrmStaffContext): Promise<StationOut[]> => store.benches(tx, studio.id);

function readBench(input: z.infer<typeof ChangeStation>) {
  const errors: { pointer: string; detail: string }[] = [];
  const setUp = readSetUp(input, '', errors);
  refuseIfAny(errors);
  return { name: input.name, mouldName: input.mouldName, ...setUp };
}

export async function addStation(context: OrmStaffContext, input: z.infer<typeof StationIn>): Promise<{ id: string }> {
  await store.insertBench(context.tx, context.studio.id, { id: input.id, ...readBench(input) });
  await audit(context, 'added a station', `station:${input.id}`);
  return { id: input.id };
}

async function requireBench({ tx, studio }: OrmStaffContext, id: string): Promise<StationOut> {
  const bench = (await store.benches(tx, studio.id)).find((each) => each.id === id);
  if (!bench) throw notFound('This station');
  return bench;
}

/** A new scale, mould or container. Classes that are prepared keep what was set for them; cards are frozen anyway. */
export async function changeStation(context: OrmStaffContext, id: string, input: z.infer<typeof ChangeStation>): Promise<{ id: string }> {
  await requireBench(context, id);
  await store.updateBench(context.tx, context.studio.id, { id, ...readBench(input) });
  await audit(context, 'changed a station', `station:${id}`);
  return { id };
}

const scaleOf = (bench: StationOut, use: Check['scale']): Scale | undefined => {
  const { scale, scaleByKind } = scalesOf(bench);
  return use === 'main' ? scale : scaleByKind.naoh;
};
function checkOut(check: Check, bench: StationOut): CheckWeighOut {
  const { id, scale, knownMg, knownLimitMg, shownMg, at, byName } = check;
  // A lye scale that is gone by now: its checks are judged by the station's own.
  return { id, scale, knownMg, knownLimitMg, shownMg, at: at.toISOString(), byName, ...judgeCheck(check, scaleOf(bench, scale) ?? scalesOf(bench).scale) };
}

export async function getStation(context: OrmStaffContext, id: string) {
  const bench = await requireBench(context, id);
  const checks = await store.checksOf(context.tx, context.studio.id, [id]);
  return { ...bench, checks: checks.map((check) => checkOut(check, bench)) };
}

/** What a scale showed with a known mass on it: kept for good, and believed by the plans of the next months. */
export async function recordCheck(context: OrmStaffContext, stationId: string, input: z.infer<typeof CheckWeighIn>): Promise<CheckWeighOut> {
  const { tx, studio, actor, now } = context;
  const bench = await requireBench(context, stationId);
  const scale = scaleOf(bench, input.scale);
  if (!scale) throw inputRefused('/scale', 'This station has no scale of its own for lye.');
  const mass = (field: 'known' | 'knownLimit' | 'shown', least: number): number => {
    const read = parseMass(input[field]);
    if (!read.ok) throw inputRefused(`/${field}`, read.problems[0]!.detail);
    if (read.value.massMg < least) throw inputRefused(`/${field}`, 'It must be more than 0 g.');
    return read.value.massMg;
  };
  const check = { id: input.id, stationId, scale: input.scale, knownMg: mass('known', 1), knownLimitMg: mass('knownLimit', 0), shownMg: mass('shown', 1) };
  if (check.knownMg > scale.capacityMg) throw inputRefused('/known', 'The known mass is more than the scale can weigh.');
  // A quarter off is no scale's error: another mass lay on it, or a key was missed.
  if (Math.abs(check.shownMg - check.knownMg) > check.knownMg / 4)
    throw inputRefused('/shown', 'This is far from the known mass. Check both figures; empty and tare the scale, and weigh again.');
  if (check.knownLimitMg >= check.knownMg) throw inputRefused('/knownLimit', 'How wrong the known mass can be is far less than the mass itself.');
  await store.insertCheck(tx, studio.id, { ...check, at: now, by: actor.id });
  await audit(context, 'checked a scale', `station:${stationId}`);
  return checkOut({ ...check, at: now, byName: actor.name }, bench);
}
