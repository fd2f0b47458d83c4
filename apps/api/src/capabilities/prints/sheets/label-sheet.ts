import { drawJarLabel } from './jar-label.ts';
import type { JarLabel } from './jar-label.ts';
import { cellAt, cellsOf, textArea } from './label-grid.ts';
import type { LabelGrid, Offset } from './label-grid.ts';
import type { Pen } from './pen.ts';

export type LabelPlan = { grid: LabelGrid; offset: Offset; start: number };

/** Labels cell by cell, from `start` (counted from 1) on the first sheet, so that a sheet begun before is used up. */
export function setLabels(pen: Pen, labels: readonly JarLabel[], { grid, offset, start }: LabelPlan, origin: string): void {
  labels.forEach((label, i) => {
    const position = start - 1 + i;
    if (i === 0 || position % cellsOf(grid) === 0) pen.page();
    drawJarLabel(pen, label, textArea(grid, cellAt(grid, position % cellsOf(grid), offset)), origin);
  });
}
