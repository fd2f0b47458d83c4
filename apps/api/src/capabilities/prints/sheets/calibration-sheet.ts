import { cellAt, cellsOf, textArea } from './label-grid.ts';
import type { LabelGrid, Offset } from './label-grid.ts';
import type { Pen } from './pen.ts';

const RULER_MM = 100;
const MARK_MM = 10;
/** The words stand in the second label, which has no cross at its centre. */
const WORDS_AT = 1;
const signed = (mm: number): string => `${mm < 0 ? '\u2212' : ''}${Math.abs(mm)}\u00a0mm`;

function ruler(pen: Pen, x: number, y: number, down: boolean): void {
  const at = (mm: number, off: number): [number, number] => (down ? [x + off, y + mm] : [x + mm, y + off]);
  const [x2, y2] = at(RULER_MM, 0);
  pen.line(x, y, x2, y2, 0.3);
  for (let mm = 0; mm <= RULER_MM; mm += MARK_MM) {
    const [ax, ay] = at(mm, 0);
    const [bx, by] = at(mm, mm % 50 === 0 ? 5 : 3);
    pen.line(ax, ay, bx, by, 0.3);
  }
  const [tx, ty] = at(RULER_MM / 2 + 2, 4);
  pen.lines([`${RULER_MM}\u00a0mm`], { x: tx, y: ty }, { size: 9 });
}

/** Every label's edge and centre, and a ruler of 100 mm each way: print it on plain paper and hold it against a label sheet. */
export function calibrationSheet(pen: Pen, grid: LabelGrid, offset: Offset): void {
  pen.page();
  for (let position = 0; position < cellsOf(grid); position += 1) {
    const cell = cellAt(grid, position, offset);
    pen.rect(cell.x, cell.y, cell.width, cell.height, 0.2);
    const [cx, cy] = [cell.x + cell.width / 2, cell.y + cell.height / 2];
    if (position !== WORDS_AT) {
      pen.line(cx - 3, cy, cx + 3, cy);
      pen.line(cx, cy - 3, cx, cy + 3);
    }
    const area = textArea(grid, cell);
    pen.lines([`${position + 1}`], { x: area.x, y: area.y }, { size: 14, bold: true });
  }
  const second = textArea(grid, cellAt(grid, WORDS_AT, offset));
  const words = [
    `Calibration, ${grid.name}`,
    `Print at 100 %: no "fit to page". Both rulers must be ${RULER_MM} mm long from end to end. If not, set the printer to 100 % and print again.`,
    `Then hold this sheet against a label sheet. Where the frames lie beside the labels, measure how far and take it off: offset to the right now ${signed(offset.xMm)}, down ${signed(offset.yMm)}.`,
  ];
  const width = second.width - 8;
  let y = second.y;
  for (const text of words) y = pen.lines(pen.wrap(text, width, { size: 9 }), { x: second.x + 8, y }, { size: 9 }) + 1;
  const first = cellAt(grid, 0, offset);
  const left = Math.max(first.x + 14, 20);
  ruler(pen, left, Math.max(first.y + 14, 16), true);
  ruler(pen, left + 10, first.y + grid.heightMm + 25, false);
}
