import type { CardOut, ClassOut } from '@ashwater/contracts';
import { classTotals, CONTAINER_MATERIALS, containerBears, fillLevel, formatMass, potOf } from '@ashwater/formulation';
import type { Outcome } from '@ashwater/formulation';

type Readiness = ClassOut['readiness'][number];
type Planned = { recipe: Parameters<typeof potOf>[0]; plan: { lines: PlannedLine[]; words: string; peak: { temperatureC: number; kind: string } } };
type PlannedLine = Parameters<typeof potOf>[1][number] & { targetMg: number; stepMg: number };
type SetUp = { lyeScaleStepMg?: number | null; lyeScaleCapacityMg?: number | null; potMaterial?: string | null; potVolumeMl?: number | null };
export type Said = { faults: string[]; notes: string[] };

/**
 * Whether the station's own container bears the peak and holds it. A material that lye attacks, one past the temperature it
 * is made for, and one that overflows stop the card; the rest is said. The supplier's sheet of the container comes first.
 */
function containerWords({ recipe, plan }: Planned, setUp: SetUp): Said {
  const said: Said = { faults: [], notes: [] };
  const { temperatureC, kind } = plan.peak;
  said.notes.push(`Peak ${kind === 'estimate' ? 'about' : 'at most'} ${Math.round(temperatureC)} °C (${kind}).`);
  if (setUp.potMaterial) {
    const bears = containerBears(setUp.potMaterial, temperatureC);
    const material = CONTAINER_MATERIALS.find((each) => each.key === setUp.potMaterial);
    const melts = material?.limitC !== null && material !== undefined && temperatureC > material.limitC;
    const never = material?.rating === 'never';
    if (bears.ok) (never || melts ? said.faults : said.notes).push(`The container for the lye. ${bears.value.words}`);
  } else said.notes.push('The material of the container for the lye is not known: only polypropylene, HDPE or stainless steel.');
  if (setUp.potVolumeMl) {
    const fill = fillLevel(potOf(recipe, plan.lines), setUp.potVolumeMl);
    if (fill.ok && fill.value.verdict === 'does not fit') said.faults.push(`The container for the lye is too small: ${fill.value.words}`);
    else if (fill.ok) said.notes.push(`The lye: ${fill.value.words}`);
  }
  return said;
}

function scaleWords(lines: readonly PlannedLine[], setUp: SetUp): string[] {
  const alkali = lines.find((line) => line.kind === 'naoh' || line.kind === 'koh');
  if (!alkali) return [];
  const finer = setUp.lyeScaleStepMg && setUp.lyeScaleCapacityMg;
  return [`Lye is weighed on the ${finer ? 'scale for lye' : "station's own scale"}, step ${formatMass(alkali.stepMg)}.`];
}

type Lines = readonly { kind: string; targetMg: number }[];
export const massOf = (lines: Lines, kind: 'naoh' | 'koh'): number => lines.find((line) => line.kind === kind)?.targetMg ?? 0;

/** What stands against a station's card, and what is worth reading before it is issued; `checks` is about its scales. */
export function readinessOf(
  station: { id: string; name: string },
  { planned, setUp, checks, card }: { planned: Outcome<Planned>; setUp: SetUp; checks: Said; card: CardOut | undefined },
): Readiness {
  const head = { classStationId: station.id, name: station.name };
  if (card) {
    const { lines, words } = card.content;
    return { ...head, safe: true, words, faults: [], notes: [], naohMg: massOf(lines, 'naoh'), kohMg: massOf(lines, 'koh') };
  }
  if (!planned.ok)
    return {
      ...head,
      safe: false,
      words: 'No safe card',
      faults: [...checks.faults, ...planned.problems.map((each) => each.detail)],
      notes: checks.notes,
      naohMg: 0,
      kohMg: 0,
    };
  const { lines, words } = planned.value.plan;
  const pot = containerWords(planned.value, setUp);
  const faults = [...pot.faults, ...checks.faults];
  const notes = [...scaleWords(lines, setUp), ...pot.notes, ...checks.notes];
  return { ...head, safe: faults.length === 0, words, faults, notes, naohMg: massOf(lines, 'naoh'), kohMg: massOf(lines, 'koh') };
}

type TotalledLine = Parameters<typeof classTotals>[0][number]['lines'][number];
/** What the whole class needs of each line, with so much spare; stations without a plan are left out. */
export function totalsOf(perStation: readonly (readonly TotalledLine[])[], sparePercent: number): ClassOut['totals'] {
  const plans = perStation.filter((lines) => lines.length > 0).map((lines) => ({ lines }));
  const totals = plans.length > 0 ? classTotals(plans, sparePercent) : undefined;
  return totals?.ok ? totals.value : [];
}
