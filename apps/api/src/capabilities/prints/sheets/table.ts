import { LEFT_MM, TICK_MM, widthOf } from './blocks.ts';
import type { Block } from './flow.ts';
import type { Pen, TextStyle } from './pen.ts';

/** A square to tick. */
export const TICK = { tick: true } as const;
/** What a cell holds: words, a square to tick, or (null) room to write in. */
export type Cell = string | { bold: string } | typeof TICK | null;
export type Row = readonly Cell[];
/** `share` is the column's part of the sheet's width. */
export type Column = { title: string; share: number; right?: true };

const PAD = 1.5;
const styleOf = (cell: Cell): TextStyle => (cell !== null && typeof cell === 'object' && 'bold' in cell ? { bold: true } : {});
const textOf = (cell: Cell): string => (typeof cell === 'string' ? cell : cell !== null && 'bold' in cell ? cell.bold : '');

/** Rows with ruled cells; the head comes again on every sheet. `rowMm` is the least height: more where there is something to write. */
export function table(pen: Pen, columns: readonly Column[], rows: readonly Row[], rowMm = 7): Block[] {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (share / shares) * widthOf(pen));
  const lefts = widths.map((_, i) => LEFT_MM + widths.slice(0, i).reduce((sum, width) => sum + width, 0));

  const rowBlock = (cells: Row, head: boolean): Block => {
    const style = (cell: Cell): TextStyle => (head ? { bold: true, size: 9 } : styleOf(cell));
    const wrapped = cells.map((cell, i) => pen.wrap(textOf(cell), widths[i]! - 2 * PAD, style(cell)));
    const textMm = Math.max(...cells.map((cell, i) => pen.heightMm(wrapped[i]!.length, style(cell))));
    const ticks = cells.some((cell) => cell === TICK) ? TICK_MM + 2 : 0;
    const heightMm = Math.max(head ? 0 : rowMm, textMm + 2 * PAD, ticks);
    return {
      heightMm,
      draw: (y) =>
        cells.forEach((cell, i) => {
          const [x, width] = [lefts[i]!, widths[i]!];
          pen.rect(x, y, width, heightMm, head ? 0.5 : 0.25);
          if (cell === TICK) pen.rect(x + (width - TICK_MM) / 2, y + (heightMm - TICK_MM) / 2, TICK_MM, TICK_MM, 0.5);
          else pen.lines(wrapped[i]!, { x: x + PAD, y: y + PAD, width: width - 2 * PAD }, { ...style(cell), ...(columns[i]!.right ? { align: 'right' } : {}) });
        }),
    };
  };
  const head: Block = {
    ...rowBlock(
      columns.map(({ title }) => title),
      true,
    ),
    withNext: true,
  };
  return [head, ...rows.map((row) => ({ ...rowBlock(row, false), heading: head }))];
}
