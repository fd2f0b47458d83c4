import { checkNumber, figure } from './check-number.ts';
import type { FormulationProblem } from './outcome.ts';
import { problem } from './outcome.ts';
import { formatMass } from './quantity.ts';
import type { LineKind } from './recipe.ts';
import { ACCURACY_CLASSES } from './scale-class.ts';
import type { Scale } from './scale-error.ts';
import type { PlanLine } from './weigh-line.ts';

/**
 * Step and capacity of a scale in mg, and what it states of its accuracy. The step must be a whole
 * number of mg because all masses are; 0.1 oz is 2835 mg, rounded to the nearest (its own rounding of
 * 0.5 mg is far under its error). `pointer` is where the scale stands in the input.
 */
export function checkScale(scale: Scale, pointer = '/scale'): FormulationProblem[] {
  const problems = [
    ...checkNumber(scale.stepMg, `${pointer}/stepMg`, { name: 'The scale step', unit: 'mg', min: 1, max: 100_000 }),
    ...checkNumber(scale.capacityMg, `${pointer}/capacityMg`, { name: 'The scale capacity', unit: 'mg', min: 1000, max: 1_000_000_000 }),
  ];
  if (problems.length === 0 && !Number.isInteger(scale.stepMg)) {
    problems.push(problem('value-out-of-range', `${pointer}/stepMg`, `The scale step is ${scale.stepMg} mg; it must be a whole number of mg.`));
  }
  return problems.length > 0 ? problems : checkAccuracy(scale, pointer);
}

/** The verification interval is from one to ten steps (OIML R 76-1, 3.4.2, from memory). */
function checkAccuracy(scale: Scale, pointer: string): FormulationProblem[] {
  const { stepMg, verificationIntervalMg, accuracyClass, checkWeighings } = scale;
  const interval = { name: 'The verification interval', unit: 'mg', min: stepMg, max: 10 * stepMg };
  const known = { name: 'The known mass', unit: 'mg', min: stepMg, max: 1_000_000_000 };
  const problems = verificationIntervalMg === undefined ? [] : checkNumber(verificationIntervalMg, `${pointer}/verificationIntervalMg`, interval);
  if (accuracyClass !== undefined && !ACCURACY_CLASSES.includes(accuracyClass)) {
    const detail = `There is no accuracy class "${String(accuracyClass)}"; choose one of ${ACCURACY_CLASSES.join(', ')}.`;
    problems.push(problem('value-out-of-range', `${pointer}/accuracyClass`, detail));
  }
  (checkWeighings ?? []).forEach((check, index) => {
    const at = `${pointer}/checkWeighings/${index}`;
    problems.push(
      ...checkNumber(check.knownMg, `${at}/knownMg`, known),
      ...checkNumber(check.shownMg, `${at}/shownMg`, { ...known, name: 'The mass shown', min: 0 }),
      ...checkNumber(check.knownLimitMg ?? 0, `${at}/knownLimitMg`, { ...known, name: 'The limit of the known mass', min: 0 }),
    );
  });
  return problems;
}

/**
 * Fewest steps a line may be. 20 for alkali: one step is then at most 5 % of the alkali, and so about
 * 5 points of superfat. Our choice; the superfat band is the real judge.
 */
export const FEWEST_STEPS: Record<LineKind, number> = {
  naoh: 20,
  koh: 20,
  fat: 5,
  water: 5,
  ice: 3,
  liquid: 5,
  acid: 5,
  additive: 2,
};

/**
 * Lines the scale cannot weigh: too few steps, or more than it carries. The vessel is not known here
 * and comes on top: a capacity near the largest line is too small in practice. `neededFatMassMg` is
 * the batch, by its fat, in which the line has a step more than it must.
 */
export function checkLinesOnScale(lines: readonly PlanLine[], scaleOf: (kind: LineKind) => Scale): FormulationProblem[] {
  const fatMassMg = lines.reduce((sum, line) => (line.kind === 'fat' ? sum + line.exactMg : sum), 0);
  return lines.flatMap((line) => {
    const fewest = FEWEST_STEPS[line.kind];
    const { capacityMg } = scaleOf(line.kind);
    if (line.targetMg < fewest * line.stepMg) {
      const neededMg = Math.max(1, Math.floor(line.exactMg / fewest));
      const neededFatMassMg = Math.ceil((fatMassMg * (fewest + 1) * line.stepMg) / Math.max(1, line.exactMg) / 1000) * 1000;
      const detail = `${line.name} is ${formatMass(line.exactMg)}, fewer than ${fewest} steps of ${formatMass(line.stepMg)}: use a scale with steps of ${figure(neededMg / 1000, 3)} g or finer, or a larger batch, of at least ${formatMass(neededFatMassMg)} of fat.`;
      return [problem('scale-step-too-coarse', '/scale/stepMg', detail, { line: line.key, neededStepMg: neededMg, neededFatMassMg })];
    }
    if (line.acceptHighMg > capacityMg) {
      const detail = `${line.name} is ${formatMass(line.targetMg)}, more than the ${formatMass(capacityMg)} the scale carries: use a larger scale or a smaller batch.`;
      return [problem('over-scale-capacity', '/scale/capacityMg', detail, { line: line.key, massMg: line.targetMg })];
    }
    return [];
  });
}
