import type { CardStep } from '@ashwater/contracts';

export type LetteredCaution = { letter: string; text: string; firstNo: number };

/**
 * The cautions of a card, each once. A caution that stands at several steps is printed in full where it first applies
 * and by its letter at the others, so that a card stays short enough to be read.
 */
export function cautionsOf(steps: readonly CardStep[]): LetteredCaution[] {
  const found: LetteredCaution[] = [];
  for (const step of steps) {
    if (step.caution === null || found.some(({ text }) => text === step.caution)) continue;
    found.push({ letter: String.fromCharCode(65 + found.length), text: step.caution, firstNo: step.no });
  }
  return found;
}
