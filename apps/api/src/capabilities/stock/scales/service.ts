import type { CabinetScaleOut, ScaleCheckIn, ScaleCheckOut, ScaleIn, WeighedOn } from '@ashwater/contracts';
import type { Scale } from '@ashwater/formulation';
import type { Tx } from '../../../plugins/database/database.ts';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { CHECK_DAYS, checksInForce, forPlanning, judgeCheck } from '../../../scale-checks.ts';
import { audit } from '../../audit/service.ts';
import type { EnteredFields } from '../entered.ts';
import { readCheck, readScaleIn } from './scale-input.ts';
import * as store from './store.ts';

/** On what something was weighed: a named scale gives its step; else the typed step stands. */
export async function readScale(
  { tx, studio }: StaffContext,
  entered: EnteredFields,
  on: WeighedOn,
  pointer = '',
): Promise<{ scaleId: string | null; scaleStepMg: number }> {
  if (!on.scaleId) return { scaleId: null, scaleStepMg: entered.scaleStepMg(on.scaleStep ?? '', `${pointer}/scaleStep`) };
  const scale = await store.scaleInUse(tx, studio.id, on.scaleId);
  if (scale) entered.weighedOn(scale);
  else entered.fault(`${pointer}/scaleId`, 'Choose a scale that is in use.');
  return { scaleId: on.scaleId, scaleStepMg: scale?.stepMg ?? 1 };
}

/** The plate of a scale as the formulation package takes it. */
const plateOf = ({ stepMg, capacityMg, verificationIntervalMg, accuracyClass }: store.NewScale): Scale => ({
  stepMg,
  capacityMg,
  ...(verificationIntervalMg === null ? {} : { verificationIntervalMg }),
  ...(accuracyClass === null ? {} : { accuracyClass }),
});

const byScale = async (tx: Tx, studioId: string) => Map.groupBy(await store.checks(tx, studioId), (check) => check.scaleId);

/**
 * Every scale of the cabinet, retired ones too, by its id, with the check weighings that speak for it. Without a time those
 * that spoke for it at its newest check.
 */
export async function scalesByKey(tx: Tx, studioId: string, at?: Date): Promise<Map<string, Scale>> {
  const checks = await byScale(tx, studioId);
  return new Map(
    (await store.scales(tx, studioId)).map((row) => {
      const plate = plateOf(row);
      const own = checks.get(row.id) ?? [];
      const then = at ?? own[0]?.at;
      const checkWeighings = then ? forPlanning(checksInForce(own, plate, then)) : [];
      return [row.id, checkWeighings.length > 0 ? { ...plate, checkWeighings } : plate];
    }),
  );
}

const SHOWN_CHECKS = 20;
export async function readScales({ tx, studio, now }: StaffContext): Promise<CabinetScaleOut[]> {
  const checks = await byScale(tx, studio.id);
  return (await store.scales(tx, studio.id)).map((row) => scaleOut(row, checks.get(row.id) ?? [], now));
}

function scaleOut(row: store.ScaleRow, checks: store.CheckRow[], now: Date): CabinetScaleOut {
  const plate = plateOf(row);
  const inForce = checksInForce(checks, plate, now);
  const past = inForce.some((check) => judgeCheck(check, plate).past);
  const old = checks.length > 0 ? `The last check is more than ${CHECK_DAYS} days old` : 'Never checked with a known mass';
  const trusted = past
    ? 'Past its limit at a check. Weigh on another scale until it is adjusted and checked again; what it weighs until then counts with that error.'
    : `Trusted by ${inForce.length === 1 ? 'its check' : `its ${inForce.length} checks`} of the last ${CHECK_DAYS} days.`;
  return {
    ...row,
    addedAt: row.addedAt.toISOString(),
    retiredAt: row.retiredAt?.toISOString() ?? null,
    past,
    checked: inForce.length > 0 ? trusted : `${old}: the books count on the limit of its class.`,
    checks: checks.slice(0, SHOWN_CHECKS).map((check) => checkOut(check, plate)),
  };
}

function checkOut(check: store.CheckRow, plate: Scale): ScaleCheckOut {
  const { id, knownMg, knownLimitMg, shownMg, at, byName } = check;
  return { id, knownMg, knownLimitMg, shownMg, at: at.toISOString(), byName, ...judgeCheck(check, plate) };
}

export async function addScale(context: StaffContext, input: ScaleIn): Promise<{ id: string }> {
  const { tx, studio, now } = context;
  const scale = readScaleIn(input);
  if ((await store.scales(tx, studio.id)).some(({ name }) => name.toLowerCase() === input.name.toLowerCase())) {
    const detail = `There is a scale called ${input.name} already, perhaps a retired one. Give this one another name.`;
    throw new DomainProblem('already-exists', detail, [{ pointer: '/name', detail }]);
  }
  await store.insertScale(tx, studio.id, scale, now);
  await audit(context, 'added a cabinet scale', `scale:${input.id}`, { stepMg: scale.stepMg });
  return { id: input.id };
}

async function requireScale({ tx, studio }: StaffContext, id: string): Promise<store.ScaleRow> {
  const [scale] = await store.scales(tx, studio.id, id);
  if (!scale) throw notFound('This scale');
  return scale;
}

/** A scale is never changed, only retired: what was weighed on it stays known by its figures. */
export async function retireScale(context: StaffContext, id: string): Promise<Record<string, never>> {
  const { name } = await requireScale(context, id);
  if (!(await store.retireScale(context.tx, context.studio.id, id, context.now))) throw new DomainProblem('nothing-to-change', `${name} is retired already.`);
  await audit(context, 'retired a cabinet scale', `scale:${id}`);
  return {};
}

/** What a scale showed with a known mass on it: kept for good, and believed by the books of the next months. */
export async function checkScale(context: StaffContext, id: string, input: ScaleCheckIn): Promise<ScaleCheckOut> {
  const { tx, studio, actor, now } = context;
  const scale = await requireScale(context, id);
  if (scale.retiredAt) throw new DomainProblem('nothing-to-change', `${scale.name} is retired. Add the scale again under another name, then check it.`);
  const check = { id: input.id, scaleId: id, ...readCheck(input, scale.capacityMg), at: now };
  await store.insertCheck(tx, studio.id, { ...check, by: actor.id });
  await audit(context, 'checked a cabinet scale', `scale:${id}`);
  return checkOut({ ...check, byName: actor.name }, plateOf(scale));
}
