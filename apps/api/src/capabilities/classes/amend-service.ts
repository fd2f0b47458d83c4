import type { AmendClass, AmendOut, CardOut, FieldFault } from '@ashwater/contracts';
import { DomainProblem, inputRefused } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { lockRoom } from '../gear/service.ts';
import { announce } from '../live/service.ts';
import { cardsInForce, stepsDone } from '../weigh-cards/service.ts';
import { lostWork, planChanges, setUpChanges } from './amend-words.ts';
import { issueCards, prepare, refuseUnsafe, requireClass, requireLot } from './plan-service.ts';
import type { ClassStation, Lots, Prepared } from './plan-service.ts';
import { massOf } from './readiness.ts';
import { readSetUp, refuseIfAny } from './set-up.ts';
import type { SetUp } from './set-up.ts';
import { setUpColumns, setUpOf } from './station-store.ts';
import * as store from './store.ts';

type Asked = SetUp & { id: string; mouldName: string; recipeVersionId: string | null; at: number; before: ClassStation; card: CardOut };

/** What was asked for each station, read and found: each station once, its card the one in force. */
function readAmended(input: AmendClass, row: store.ClassRow, cards: readonly CardOut[]): Asked[] {
  const errors: FieldFault[] = [];
  const read = input.stations.map((typed, i) => ({ typed, setUp: readSetUp(typed, `/stations/${i}`, errors) }));
  const seen = new Set<string>();
  input.stations.forEach(({ classStationId }, i) => {
    const detail = seen.has(classStationId)
      ? 'This station is named twice.'
      : row.stations.some(({ id }) => id === classStationId)
        ? undefined
        : 'This station is not in the class.';
    if (detail) errors.push({ pointer: `/stations/${i}/classStationId`, detail });
    seen.add(classStationId);
  });
  refuseIfAny(errors);
  return read.map(({ typed, setUp }, at) => {
    const before = row.stations.find(({ id }) => id === typed.classStationId)!;
    const card = cards.find(({ classStationId }) => classStationId === typed.classStationId);
    if (card?.id !== typed.cardId)
      throw new DomainProblem('card-voided', `${before.name} has another card by now: a colleague changed it. Look at it again.`, [
        { pointer: `/stations/${at}/cardId`, detail: 'This card was replaced.' },
      ]);
    // Left out: it makes what it made. Null: what the class makes.
    const recipeVersionId = typed.recipeVersionId === undefined ? before.recipe_version_id : typed.recipeVersionId;
    return { ...setUp, id: before.id, mouldName: typed.mouldName, recipeVersionId, at, before, card };
  });
}

/** The class as it would be; nothing is written. */
function amended(row: store.ClassRow, asked: readonly Asked[], lots: { naohLotId: string | null; kohLotId: string | null }): store.ClassRow {
  const stations = asked.map((each) => {
    const { scale_step_mg, scale_capacity_mg, verification_interval_mg, lye_scale_step_mg, lye_scale_capacity_mg, ...plain } = setUpColumns(each);
    const big = (value: number | null) => (value === null ? null : BigInt(value));
    return {
      ...each.before,
      ...plain,
      scale_step_mg: BigInt(scale_step_mg),
      scale_capacity_mg: BigInt(scale_capacity_mg),
      verification_interval_mg: big(verification_interval_mg),
      lye_scale_step_mg: big(lye_scale_step_mg),
      lye_scale_capacity_mg: big(lye_scale_capacity_mg),
      recipe_version_id: each.recipeVersionId,
    };
  });
  return { ...row, naoh_lot_id: lots.naohLotId, koh_lot_id: lots.kohLotId, stations };
}

type Work = (card: CardOut) => { doneNos: ReadonlySet<number>; readNos: ReadonlySet<number> };
/** The cabinet hands out one lot of a substance to a class: a station that has not taken its own yet must change with it. */
function refuseLeftBehind(input: AmendClass, row: store.ClassRow, cards: readonly CardOut[], work: Work): void {
  const chosen = new Set(input.stations.map(({ classStationId }) => classStationId));
  for (const [field, kind, now] of [
    ['naohLotId', 'naoh', row.naoh_lot_id],
    ['kohLotId', 'koh', row.koh_lot_id],
  ] as const) {
    if (input[field] === undefined || input[field] === now) continue;
    const left = cards.filter((card) => !chosen.has(card.classStationId) && massOf(card.content.lines, kind) > 0 && lostWork(card, work(card)) === null);
    if (left.length === 0) continue;
    const names = left.map((card) => card.content.stationName).join(', ');
    throw inputRefused(
      `/${field}`,
      `${names} would get no caustic: the cabinet hands out one lot for a class. Choose ${left.length === 1 ? 'it' : 'them'} too.`,
    );
  }
}

function answerOf(asked: readonly Asked[], planned: { lots: Lots; prepared: readonly Prepared[] }, work: Work, issued: boolean): AmendOut {
  const stations = asked.map(({ id, before, card }, i) => {
    const { planned: plan, version, setUp } = planned.prepared[i]!;
    const lines = plan.ok ? plan.value.plan.lines : [];
    const lots = planned.lots.filter((lot) => massOf(lines, lot.substance === 'NaOH' ? 'naoh' : 'koh') > 0);
    const after = { recipeTitle: version.title, recipeVersionNumber: version.number, lots, lines };
    return {
      classStationId: id,
      name: before.name,
      before: { number: card.number, issue: card.issue },
      after: { number: card.number, issue: card.issue + 1 },
      changes: [...setUpChanges(setUpOf(before), setUp), ...planChanges(card.content, after)],
      done: work(card).doneNos.size,
      lost: lostWork(card, work(card)),
    };
  });
  return { issued, stations };
}

/** What was done and read on each card; readings that were superseded were made all the same. */
async function workOf({ tx, studio }: OrmStaffContext, classId: string): Promise<{ cards: CardOut[]; work: Work }> {
  const { cards, readings } = await cardsInForce(tx, studio.id, classId);
  const done = await stepsDone(
    tx,
    studio.id,
    cards.map(({ id }) => id),
  );
  const nos = (rows: readonly { card_id: string; step_no: number }[], id: string) =>
    new Set(rows.filter((row) => row.card_id === id).map((row) => row.step_no));
  return { cards, work: ({ id }) => ({ doneNos: nos(done, id), readNos: nos(readings, id) }) };
}

/**
 * Gives the chosen stations of a published class a new issue of their card, which voids the old one at once: all of them or, where
 * one has no safe plan, none. The others keep card, readings and gear; at the chosen ones steps, readings and gear start from nothing.
 */
export async function amendClass(context: OrmStaffContext, id: string, input: AmendClass): Promise<AmendOut> {
  const { tx, studio } = context;
  await requireClass(context, id);
  // Nobody acts at a station while its card is replaced: an act comes before this, or finds its card voided.
  await lockRoom(tx, id, 'stop');
  if (!(await store.holdPublished(tx, studio.id, id)))
    throw new DomainProblem('class-not-open', 'Only a published class is amended: change a draft itself; a class that is over stays as it was.');
  const row = await requireClass(context, id);
  const lots = {
    naohLotId: input.naohLotId === undefined ? row.naoh_lot_id : input.naohLotId,
    kohLotId: input.kohLotId === undefined ? row.koh_lot_id : input.kohLotId,
  };
  await requireLot(tx, studio.id, lots.naohLotId, 'NaOH', '/naohLotId');
  await requireLot(tx, studio.id, lots.kohLotId, 'KOH', '/kohLotId');
  const { cards, work } = await workOf(context, id);
  const asked = readAmended(input, row, cards);
  refuseLeftBehind(input, row, cards, work);
  const next = amended(row, asked, lots);
  const planned = await prepare(context, next);
  refuseUnsafe(planned.prepared);
  const answer = answerOf(asked, planned, work, input.preview !== true);
  if (input.preview) return answer;
  const lost = answer.stations.flatMap((station, i) => (station.lost ? [{ pointer: `/stations/${i}`, detail: station.lost }] : []));
  if (lost.length > 0 && !input.confirm) throw new DomainProblem('work-would-be-lost', lost[0]!.detail, lost);
  await store.amend(tx, studio.id, id, { ...lots, stations: asked });
  await issueCards(context, next, planned, (stationId) => asked.find((each) => each.id === stationId)?.card.number);
  await audit(context, 'amended a class', `class:${id}`, {
    reason: input.reason,
    cards: answer.stations.map(({ after }) => `${after.number} issue ${after.issue}`).join(', '),
    workLost: lost.length > 0,
  });
  for (const station of answer.stations) await announce(context, { kind: 'card-reissued', classId: id, classStationId: station.classStationId });
  return answer;
}
