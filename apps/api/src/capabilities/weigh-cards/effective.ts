import type { CardContent, CardStep, ChangedLine, Verdict } from '@ashwater/contracts';
import { judgeReading } from '@ashwater/formulation';
import type { Act } from '@ashwater/formulation';
import type { z } from 'zod';

/** What the scale must read, mg. */
export type Target = { targetMg: number; acceptLowMg: number; acceptHighMg: number };

/** What an approved change does to a card, as stored with it. */
export type ChangeContent = {
  /** Lines as they are in the end, by key. */
  targets: Record<string, Target>;
  /** Steps of the card that weigh to another target, or whose reading is taken as it is, by number. */
  ranges: Record<number, Target>;
  /** New steps, in their order, right after the step the change is about. */
  steps: CardStep[];
  /** Steps that are not done any more. */
  removed: number[];
  /** What was weighed at the step is in the pot and cannot come out. */
  mixed: boolean;
  /** The readings it was worked out from. */
  basis: string[];
  lines: z.infer<typeof ChangedLine>[];
  superfatBandPercent: CardContent['superfatBandPercent'];
  lyeConcentrationPercent: number;
  /** In the lye pot alone, as the jar's label says it. */
  potConcentrationPercent?: number;
};
export type CardChange = { id: string; stepNo: number; act: Act; words: string; content: ChangeContent; at: string; byName: string };

function apply(content: CardContent, change: CardChange): CardContent {
  const { targets, ranges, steps, removed, superfatBandPercent, lyeConcentrationPercent, potConcentrationPercent } = change.content;
  const changed = content.steps.flatMap((step): CardStep[] => [{ ...step, ...ranges[step.no] }, ...(step.no === change.stepNo ? steps : [])]);
  const lines = content.lines.map((line) => ({ ...line, ...targets[line.key] }));
  const planned = new Map(content.lines.map((line) => [line.key, line.targetMg]));
  const moreMg = lines.reduce((sum, line) => sum + (inSolution(line) ? line.targetMg - (planned.get(line.key) ?? 0) : 0), 0);
  return {
    ...content,
    lines,
    steps: changed.filter((step) => !removed.includes(step.no)),
    solutionMassMg: content.solutionMassMg + moreMg,
    ...(change.act === 'discard'
      ? {}
      : { superfatBandPercent, lyeConcentrationPercent, ...(potConcentrationPercent === undefined ? {} : { potConcentrationPercent }) }),
  };
}
const inSolution = ({ kind, into }: CardContent['lines'][number]): boolean =>
  into !== 'fats' && ['naoh', 'koh', 'water', 'ice', 'liquid', 'acid'].includes(kind);

/** The card as it is to be followed: as issued, with every change in the order they were approved. */
export const effectiveContent = (content: CardContent, changes: readonly CardChange[]): CardContent => changes.reduce(apply, content);

type Mass = { step_no: number; mass_mg: number | null; verdict: z.infer<typeof Verdict> };

/** How a mass stands against a step's range as it is now; the line gives name and scale. */
export function judgeMass(content: Pick<CardContent, 'lines'>, step: CardStep, massMg: number) {
  const line = content.lines.find((each) => each.key === step.lineKey);
  if (!line || step.targetMg === null || step.acceptLowMg === null || step.acceptHighMg === null) return undefined;
  const { kind, name, stepMg } = line;
  return judgeReading({ kind, name, stepMg, targetMg: step.targetMg, acceptLowMg: step.acceptLowMg, acceptHighMg: step.acceptHighMg }, massMg);
}

/**
 * The verdict of a reading now. A reading keeps what was said when it was made; only at a step that a change gave another
 * range is it judged anew, so that what the change takes as it is counts as within, and what no longer fits does not.
 */
export function verdictNow(reading: Mass, content: CardContent, changes: readonly CardChange[]): z.infer<typeof Verdict> {
  const step = content.steps.find((each) => each.no === reading.step_no);
  const touched = changes.some((change) => change.content.ranges[reading.step_no] !== undefined);
  if (!touched || !step || reading.mass_mg === null) return reading.verdict;
  return judgeMass(content, step, reading.mass_mg)?.verdict ?? reading.verdict;
}
