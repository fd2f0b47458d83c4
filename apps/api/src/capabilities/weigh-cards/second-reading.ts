import type { CardContent, CardStep, SecondReading } from '@ashwater/contracts';
import type { CardChange } from './effective.ts';

/*
 * The independent second reading of a caustic weighing. It counts as one only if the second person has not seen the target
 * or the first reading (ISMP, independent double checks), so both are told after theirs is in.
 */
export type CheckRow = { byName: string; entered: string; massMg: number; agrees: boolean; at: string };
type Read = { id: string; step_no: number; mass_mg: number | null; verdict: string; second_read: CheckRow | null };

const lineOf = (content: Pick<CardContent, 'lines'>, step: CardStep) => content.lines.find((line) => line.key === step.lineKey);

export function weighsCaustic(content: Pick<CardContent, 'lines'>, step: CardStep): boolean {
  const kind = lineOf(content, step)?.kind;
  return step.kind === 'weigh' && (kind === 'naoh' || kind === 'koh');
}

/**
 * How a reading stands with its second reading. Lye that an approved change takes as it is lies in the pot: nobody can read
 * it from a scale again, and the instructor has looked at it.
 */
export function secondReadingOf(reading: Read, content: CardContent, changes: readonly CardChange[]): SecondReading {
  const step = content.steps.find((each) => each.no === reading.step_no);
  if (!step || reading.verdict !== 'within' || !weighsCaustic(content, step)) return 'not needed';
  if (changes.some(({ stepNo, content: change }) => stepNo === step.no && change.mixed && change.basis.includes(reading.id))) return 'not needed';
  if (!reading.second_read) return 'needed';
  return reading.second_read.agrees ? 'agrees' : 'disagrees';
}

/** Two people at one scale may see neighbouring steps of its display, no more. Masses in mg. */
export const readingsAgree = (firstMg: number, secondMg: number, stepMg: number): boolean => Math.abs(firstMg - secondMg) <= stepMg;

/** The scale's step for the line a step weighs, mg. */
export const stepMgOf = (content: CardContent, step: CardStep): number => lineOf(content, step)?.stepMg ?? content.scaleStepMg;

/** Whether a name is that of the person who read first, however it is typed. */
export const sameName = (a: string, b: string): boolean => plain(a) === plain(b);
const plain = (name: string): string => name.normalize('NFKC').replace(/\s+/g, ' ').trim().toLowerCase();
