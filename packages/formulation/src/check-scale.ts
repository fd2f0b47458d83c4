import { checkNumber, figure } from './check-number.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import { formatMass } from './quantity.ts';
import type { LineKind } from './recipe.ts';
import type { Scale } from './scale-error.ts';
import type { PlanLine } from './weigh-line.ts';

/**
 * Step and capacity of a scale in mg. The step must be a whole number of mg because all masses are;
 * 0.1 oz is 2835 mg, rounded to the nearest (its own rounding of 0.5 mg is far under its error).
 */
export function checkScale(scale: Scale): FormulationProblem[] {
  const problems = [
    ...checkNumber(scale.stepMg, '/scale/stepMg', { name: 'The scale step', unit: 'mg', min: 1, max: 100_000 }),
    ...checkNumber(scale.capacityMg, '/scale/capacityMg', { name: 'The scale capacity', unit: 'mg', min: 1000, max: 1_000_000_000 }),
  ];
  if (problems.length === 0 && !Number.isInteger(scale.stepMg)) {
    problems.push(problem('value-out-of-range', '/scale/stepMg', `The scale step is ${scale.stepMg} mg; it must be a whole number of mg.`));
  }
  return problems;
}

/**
 * Fewest steps a line may be. 20 for alkali: one step is then at most 5 % of the alkali, and so about
 * 5 points of superfat. Our choice; the superfat band is the real judge.
 */
const FEWEST_STEPS: Record<LineKind, number> = {
  naoh: 20,
  koh: 20,
  fat: 5,
  water: 5,
  ice: 3,
  liquid: 5,
  additive: 2,
};

/**
 * Lines the scale cannot weigh: too few steps, or more than it carries. The vessel is not known here
 * and comes on top: a capacity near the largest line is too small in practice.
 */
export function checkLinesOnScale(lines: readonly PlanLine[], scale: Scale): FormulationProblem[] {
  return lines.flatMap((line) => {
    const fewest = FEWEST_STEPS[line.kind];
    if (line.targetMg < fewest * line.stepMg) {
      const neededMg = Math.max(1, Math.floor(line.exactMg / fewest));
      const detail = `${line.name} is ${formatMass(line.exactMg)}, fewer than ${fewest} steps of ${formatMass(line.stepMg)}: use a scale with steps of ${figure(neededMg / 1000, 3)} g or finer, or a larger batch.`;
      return [problem('scale-step-too-coarse', '/scale/stepMg', detail, { line: line.key, neededStepMg: neededMg })];
    }
    if (line.acceptHighMg > scale.capacityMg) {
      const detail = `${line.name} is ${formatMass(line.targetMg)}, more than the ${formatMass(scale.capacityMg)} the scale carries: use a larger scale or a smaller batch.`;
      return [problem('over-scale-capacity', '/scale/capacityMg', detail, { line: line.key, massMg: line.targetMg })];
    }
    return [];
  });
}
