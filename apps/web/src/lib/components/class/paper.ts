import type { CardContent, CardStep } from '@ashwater/contracts';

/** The steps of a card that are still to be entered, from the one whose turn it is. */
export function stepsLeft(content: Pick<CardContent, 'steps'>, stepNo: number | null): CardStep[] {
  const from = content.steps.findIndex((step) => step.no === stepNo);
  return from < 0 ? [] : content.steps.slice(from);
}

export const takesReading = (step: CardStep): boolean => step.kind === 'weigh' || step.kind === 'temperature';
/** A line that a second person reads: the caustic itself. */
export const takesSecond = (step: CardStep): boolean => step.kind === 'weigh' && (step.lineKey === 'naoh' || step.lineKey === 'koh');

export type PaperLine = { id: string; stepNo: number; entered: string; second: { id: string; entered: string; byName: string } | null };
/**
 * What was typed, in the order of the card, from the step whose turn it is up to the first line that is still blank: nothing
 * is entered past a gap, and what an earlier try entered is not sent again. `idOf` names what each line makes.
 */
export function linesOf(field: (name: string) => string, stepNo: number | null, idOf: (part: string) => string): PaperLine[] {
  const lines: PaperLine[] = [];
  const order = field('order').split(' ').filter(Boolean).map(Number);
  for (const no of order.slice(stepNo === null ? order.length : Math.max(0, order.indexOf(stepNo)))) {
    const entered = field(`entered/${no}`).trim();
    if (entered === '' && field(`done/${no}`) === '') break;
    const [second, byName] = [field(`second/${no}`).trim(), field(`by/${no}`).trim()];
    lines.push({ id: idOf(`r${no}`), stepNo: no, entered, second: second || byName ? { id: idOf(`s${no}`), entered: second, byName } : null });
  }
  return lines;
}
