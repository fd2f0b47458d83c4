import { LABEL_SHEETS } from '@ashwater/contracts';
import type { LabelSheetKey } from '@ashwater/contracts';
import { PAPERS } from './paper.ts';
import type { PaperKey } from './paper.ts';

/** A sheet of labels, in mm; named by its geometry. `pitch` is from one label's edge to the next one's. */
export type LabelGrid = {
  name: string;
  paper: PaperKey;
  across: number;
  down: number;
  widthMm: number;
  heightMm: number;
  leftMm: number;
  topMm: number;
  pitchXMm: number;
  pitchYMm: number;
};

/** Common sheets; none is smaller than 52 x 74 mm, the least for up to 3 L (CLP Annex I, table 1.3). The last one also bears 3 to 50 L: at least 74 x 105 mm. */
export const GRIDS = {
  '2x4-99.1x67.7': {
    ...LABEL_SHEETS['2x4-99.1x67.7'],
    across: 2,
    down: 4,
    widthMm: 99.1,
    heightMm: 67.7,
    leftMm: 4.65,
    topMm: 13.1,
    pitchXMm: 101.6,
    pitchYMm: 67.7,
  },
  '2x3-101.6x84.7': {
    ...LABEL_SHEETS['2x3-101.6x84.7'],
    across: 2,
    down: 3,
    widthMm: 101.6,
    heightMm: 84.67,
    leftMm: 3.97,
    topMm: 12.7,
    pitchXMm: 106.36,
    pitchYMm: 84.67,
  },
  '2x2-105x148.5': {
    ...LABEL_SHEETS['2x2-105x148.5'],
    across: 2,
    down: 2,
    widthMm: 105,
    heightMm: 148.5,
    leftMm: 0,
    topMm: 0,
    pitchXMm: 105,
    pitchYMm: 148.5,
  },
} as const satisfies Record<LabelSheetKey, LabelGrid>;

/** How far a printer shifts the print, taken off again; mm to the right and down. */
export type Offset = { xMm: number; yMm: number };
export type LabelCell = { x: number; y: number; width: number; height: number };

export const cellsOf = ({ across, down }: LabelGrid): number => across * down;

/** The label at a position, counted from 0, row by row. */
export function cellAt(grid: LabelGrid, position: number, offset: Offset): LabelCell {
  const [column, row] = [position % grid.across, Math.floor(position / grid.across)];
  return { x: grid.leftMm + column * grid.pitchXMm + offset.xMm, y: grid.topMm + row * grid.pitchYMm + offset.yMm, width: grid.widthMm, height: grid.heightMm };
}

/** No text within 2 mm of the label's edge, nor within 6 mm of the sheet's, where printers leave it out. */
const INSIDE_MM = 2.5;
const SHEET_RIM_MM = 6;
export function textArea(grid: LabelGrid, cell: LabelCell): LabelCell {
  const paper = PAPERS[grid.paper];
  const left = Math.max(cell.x + INSIDE_MM, SHEET_RIM_MM);
  const top = Math.max(cell.y + INSIDE_MM, SHEET_RIM_MM);
  const right = Math.min(cell.x + cell.width - INSIDE_MM, paper.widthMm - SHEET_RIM_MM);
  const bottom = Math.min(cell.y + cell.height - INSIDE_MM, paper.heightMm - SHEET_RIM_MM);
  return { x: left, y: top, width: right - left, height: bottom - top };
}
