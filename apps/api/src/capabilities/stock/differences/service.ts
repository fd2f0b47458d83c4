import type { ClassDifferenceOut, ExplainDifference } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { Scale } from '@ashwater/formulation';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { checksInForce, forPlanning } from '../../../scale-checks.ts';
import { audit } from '../../audit/service.ts';
import { EnteredFields } from '../entered.ts';
import { scalesByKey } from '../scales/service.ts';
import { doubtOf, judgeDifference } from './rules.ts';
import type { SignedWeighing } from './rules.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

type Behind = {
  handed: store.HandedRow[];
  weighed: store.WeighedRow[];
  explained: store.ExplanationRow[];
  cabinet: Map<string, Scale>;
  benchOf: (row: store.WeighedRow) => { scale: Scale | number; scaleKey: string };
};

/** What left the cabinet for each class against what its cards weighed, for one class or all that were handed something. Newest class first. */
export async function readDifferences(context: StaffContext, classId: string | null = null): Promise<ClassDifferenceOut[]> {
  const { tx, studio } = context;
  const rows = await store.handed(tx, studio.id, classId);
  const ids = [...new Set(rows.map((row) => row.classId))];
  const [weighed, explained] = [await store.weighed(tx, studio.id, ids), await store.explanations(tx, studio.id, ids)];
  const behind = { weighed, explained, cabinet: await scalesByKey(tx, studio.id), benchOf: await benchScales(context, ids) };
  const key = (row: { classId: string; substance: string }) => `${row.classId} ${row.substance}`;
  const [weighedBy, explainedBy] = [Map.groupBy(weighed, key), Map.groupBy(explained, key)];
  return [...Map.groupBy(rows, key)].map(([at, handed]) =>
    differenceOf({ ...behind, handed, weighed: weighedBy.get(at) ?? [], explained: explainedBy.get(at) ?? [] }),
  );
}

function differenceOf({ handed, weighed, explained, cabinet, benchOf }: Behind): ClassDifferenceOut {
  const { classId, classTitle, startsAt, substance } = handed[0]!;
  const sum = (masses: number[]) => masses.reduce((total, mass) => total + mass, 0);
  const outMg = sum(handed.filter(({ back }) => !back).map(({ massMg }) => massMg));
  const leftMg = sum(handed.filter(({ back }) => back).map((row) => row.massMg - (row.returnedMg ?? 0)));
  const weighedMg = sum(weighed.map(({ massMg }) => massMg));
  const explainedMg = sum(explained.map(({ massMg }) => massMg));
  const differenceMg = leftMg - weighedMg;
  const atCabinet = handed.filter(({ back }) => back).flatMap((row) => cabinetWeighings(row, cabinet));
  const atBenches = weighed.map((row): SignedWeighing => ({ ...benchOf(row), massMg: row.massMg, sign: -1 }));
  const standardUncertaintyMg = doubtOf([...atCabinet, ...atBenches]);
  const cards = new Set(weighed.map(({ cardId }) => cardId)).size;
  return {
    ...{ classId, classTitle, startsAt: startsAt.toISOString(), substance, outMg, leftMg, weighedMg, cards, differenceMg, standardUncertaintyMg, explainedMg },
    ...judgeDifference({ outMg, differenceMg, explainedMg, standardUncertaintyMg, cards }),
    explanations: explained.map(({ id, kind, massMg, remark, at, byName }) => ({ id, kind, massMg, remark, at: at.toISOString(), byName })),
  };
}

/** The weighings of one hand-out and its return. A return of nothing was not weighed; without a named scale those of one step are taken to come from one scale. */
function cabinetWeighings(row: store.HandedRow, cabinet: ReadonlyMap<string, Scale>): SignedWeighing[] {
  const on = (scaleId: string | null, stepMg: number) => ({
    scale: (scaleId === null ? undefined : cabinet.get(scaleId)) ?? stepMg,
    scaleKey: scaleId === null ? `cabinet step ${stepMg}` : `cabinet ${scaleId}`,
  });
  const out = { ...on(row.scaleId, row.scaleStepMg), massMg: row.whole ? (row.grossMg ?? 0) : row.massMg, sign: 1 as const };
  const backMg = row.whole ? (row.returnedGrossMg ?? 0) : (row.returnedMg ?? 0);
  if (backMg === 0) return [out];
  return [out, { ...on(row.returnScaleId, row.returnScaleStepMg ?? row.scaleStepMg), massMg: backMg, sign: -1 }];
}

/** The scale behind a card's reading: the station's finer one for lye where it has one, with the checks that spoke for it on the day. */
async function benchScales({ tx, studio }: StaffContext, classIds: string[]): Promise<Behind['benchOf']> {
  const benches = new Map((await store.benches(tx, studio.id, classIds)).map((bench) => [bench.classStationId, bench]));
  const checks = await store.benchChecks(tx, studio.id, [...new Set([...benches.values()].map(({ stationId }) => stationId))]);
  return ({ classStationId, stepMg }) => {
    const bench = benches.get(classStationId);
    if (!bench) return { scale: stepMg, scaleKey: `bench step ${stepMg}` };
    const use = bench.lyeStepMg !== null && bench.lyeStepMg === stepMg ? 'lye' : 'main';
    const plate: Scale =
      use === 'lye'
        ? { stepMg, capacityMg: bench.lyeCapacityMg ?? bench.capacityMg }
        : {
            stepMg,
            capacityMg: bench.capacityMg,
            ...(bench.verificationIntervalMg === null ? {} : { verificationIntervalMg: bench.verificationIntervalMg }),
            ...(bench.accuracyClass === null ? {} : { accuracyClass: bench.accuracyClass }),
          };
    const own = checks.filter((check) => check.stationId === bench.stationId && check.scale === use);
    const checkWeighings = forPlanning(checksInForce(own, plate, bench.startsAt));
    return { scale: checkWeighings.length > 0 ? { ...plate, checkWeighings } : plate, scaleKey: `bench ${bench.stationId} ${use}` };
  };
}

/** Those to be explained first; they stay there until they are. */
export async function listDifferences(context: StaffContext, classId: string | undefined) {
  const all = await readDifferences(context, classId ?? null);
  const isOpen = ({ verdict }: ClassDifferenceOut) => verdict === 'unclear' || verdict === 'does not agree';
  return { open: all.filter(isOpen), settled: all.filter((each) => !isOpen(each)) };
}

/** Says what became of a difference, or of a part of it. Moves no mass and changes no figure; it is told beside them. */
export async function explainDifference(context: StaffContext, classId: string, input: ExplainDifference): Promise<{ id: string }> {
  const { tx, studio } = context;
  if (!(await store.classExists(tx, studio.id, classId))) throw notFound('The class');
  const entered = new EnteredFields();
  const typedMg = entered.massMg(input.mass, '/mass');
  entered.refuse();
  if (typedMg === 0) throw inputRefused('/mass', 'Write how much of the difference this explains: more than 0 g.');
  if (input.remark === '' && (input.kind === 'unknown' || input.kind === 'spilled'))
    throw inputRefused(
      '/remark',
      input.kind === 'spilled' ? 'Say where it was spilled and how it was cleaned up.' : 'Say what was looked at before it was given up.',
    );
  await store.holdClass(tx, classId);
  const difference = (await readDifferences(context, classId)).find(({ substance }) => substance === input.substance);
  if (!difference) throw new DomainProblem('nothing-to-change', 'Nothing of this substance was handed out to this class.');
  if (difference.outMg > 0) throw new DomainProblem('container-out', difference.words);
  if (typedMg > Math.abs(difference.openMg))
    throw inputRefused('/mass', `${formatMass(Math.abs(difference.openMg))} is still to be explained; ${formatMass(typedMg)} is more.`);
  const massMg = difference.openMg > 0 ? typedMg : -typedMg;
  const by = postingOf(context);
  await store.insertExplanation(tx, by, { ...input, classId, massMg });
  await audit(context, 'explained a difference', `class:${classId}`, { substance: input.substance, kind: input.kind, massMg });
  return { id: input.id };
}
