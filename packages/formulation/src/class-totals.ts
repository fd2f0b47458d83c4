import { checkNumber } from './check-number.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import type { LineKind } from './recipe.ts';
import type { PlanLine } from './weigh-line.ts';
import { checkPercent, whenSound } from './when-sound.ts';

/** What a class needs of one line, whole mg: all stations together, the spare, and both. */
export type ClassTotal = {
  key: string;
  kind: LineKind;
  name: string;
  /** How many stations weigh it. */
  stations: number;
  sumMg: number;
  /** At least the spare asked for: rounded up until the total is whole steps of the scale. */
  spareMg: number;
  totalMg: number;
  /** The coarsest step among the stations' scales for this line. */
  stepMg: number;
};

type TotalledLine = Pick<PlanLine, 'key' | 'kind' | 'name' | 'targetMg' | 'stepMg'>;

const TARGET = { name: 'The target', unit: 'mg', min: 0, max: 1_000_000_000 } as const;
const STEP = { name: 'The scale step', unit: 'mg', min: 1, max: 100_000 } as const;

function checkWhole(value: number, pointer: string, rule: typeof TARGET | typeof STEP): FormulationProblem[] {
  const found = checkNumber(value, pointer, rule);
  if (found.length > 0 || Number.isInteger(value)) return found;
  return [problem('value-out-of-range', pointer, `${rule.name} is ${value} mg; masses are whole milligrams.`, { value })];
}

/** Hundredths of a percent as a whole number, so that the spare is worked out in whole numbers; finer is rounded up. */
function hundredthsOf(percent: number): number {
  return Math.ceil(percent * 100 - 1e-6);
}

/**
 * Totals of a whole class, one for each line, in the order in which lines first appear. Lines count as the same when both key
 * and name are: two recipes may both have an "additive:0". Sums are exact in whole mg; with the spare, rounded up, they end on a
 * whole step, so that no station goes short.
 * @param plans one for each station; at most 1000
 * @param sparePercent 0 to 100 percent on top of every line, also of the alkali: what is left over goes back to the cabinet's book
 */
export function classTotals(plans: readonly { lines: readonly TotalledLine[] }[], sparePercent: number): Outcome<ClassTotal[]> {
  const problems = [
    ...checkPercent(sparePercent, '/sparePercent', 'The spare'),
    ...checkNumber(plans.length, '/plans', { name: 'The number of stations', unit: '', min: 1, max: 1000 }),
    ...plans.flatMap((plan, at) =>
      plan.lines.flatMap((line, index) => [
        ...checkWhole(line.targetMg, `/plans/${at}/lines/${index}/targetMg`, TARGET),
        ...checkWhole(line.stepMg, `/plans/${at}/lines/${index}/stepMg`, STEP),
      ]),
    ),
  ];
  return whenSound(problems, () => {
    const totals = new Map<string, ClassTotal>();
    for (const { key, kind, name, targetMg, stepMg } of plans.flatMap((plan) => plan.lines)) {
      const one = `${key} ${name}`;
      const so = totals.get(one) ?? { key, kind, name, stations: 0, sumMg: 0, spareMg: 0, totalMg: 0, stepMg };
      totals.set(one, { ...so, stations: so.stations + 1, sumMg: so.sumMg + targetMg, stepMg: Math.max(so.stepMg, stepMg) });
    }
    const hundredths = hundredthsOf(sparePercent);
    return [...totals.values()].map((total): ClassTotal => {
      const leastMg = total.sumMg + Math.ceil((total.sumMg * hundredths) / 10_000);
      const totalMg = Math.ceil(leastMg / total.stepMg) * total.stepMg;
      return { ...total, spareMg: totalMg - total.sumMg, totalMg };
    });
  });
}
