import { LEFT_MM, widthOf } from './blocks.ts';
import type { Frame } from './flow.ts';
import { bottomOf } from './flow.ts';
import { MARGIN_MM } from './paper.ts';
import type { Pen } from './pen.ts';
import { drawQr } from './qr.ts';
import { timeWords } from './words.ts';

/** What is the same on every sheet of one printing. `origin` is where the QR codes lead. */
export type Stamp = { studioName: string; zone: string; emergencyPhone: string; printedAt: Date; origin: string };
/** What one sheet is. `identity` is repeated at the foot of each page, so that no loose page is without its number. */
export type Head = { title: string; lines: readonly string[]; identity: string; qr: { path: string; says: string }; voidAfter?: string };

const QR_MM = 26;
const TITLE = { size: 19, bold: true };
const FOOT = { size: 8.5 };
const FOOT_BOLD = { size: 9, bold: true };
const PAGE_MM = 34;

export function frameOf(pen: Pen, stamp: Stamp, head: Head): Frame {
  const textMm = widthOf(pen) - QR_MM - 4;
  const title = pen.wrap(head.title, textMm, TITLE);
  const lines = head.lines.flatMap((line) => pen.wrap(line, textMm));
  const says = pen.wrap(head.qr.says, QR_MM, FOOT);
  const titleMm = pen.heightMm(title.length, TITLE);
  const inner = Math.max(QR_MM + pen.heightMm(says.length, FOOT), titleMm + pen.heightMm(lines.length));
  const identity = pen.wrap(`${head.identity}.${head.voidAfter ? ` Void after ${head.voidAfter}.` : ''}`, widthOf(pen) - PAGE_MM, FOOT_BOLD);
  const printed = pen.wrap(
    `Printed ${timeWords(stamp.printedAt, stamp.zone)}. ${stamp.studioName}. In an emergency call ${stamp.emergencyPhone}.`,
    widthOf(pen),
    FOOT,
  );
  const footMm = 2.5 + pen.heightMm(identity.length, FOOT_BOLD) + pen.heightMm(printed.length, FOOT);
  const frame: Frame = {
    headMm: inner + 4,
    footMm,
    draw(page, pages) {
      const right = LEFT_MM + widthOf(pen);
      pen.lines(title, { x: LEFT_MM, y: MARGIN_MM }, TITLE);
      pen.lines(lines, { x: LEFT_MM, y: MARGIN_MM + titleMm });
      drawQr(pen, stamp.origin + head.qr.path, { x: right - QR_MM, y: MARGIN_MM, sizeMm: QR_MM });
      pen.lines(says, { x: right - QR_MM, y: MARGIN_MM + QR_MM, width: QR_MM }, { ...FOOT, align: 'centre' });
      pen.line(LEFT_MM, MARGIN_MM + inner + 1.5, right, MARGIN_MM + inner + 1.5, 0.5);
      const foot = bottomOf(pen, frame) + 1;
      pen.line(LEFT_MM, foot, right, foot, 0.5);
      const below = pen.lines(identity, { x: LEFT_MM, y: foot + 0.5 }, FOOT_BOLD);
      pen.lines([`Page ${page} of ${pages}`], { x: right - PAGE_MM, y: foot + 0.5, width: PAGE_MM }, { ...FOOT_BOLD, align: 'right' });
      pen.lines(printed, { x: LEFT_MM, y: below }, FOOT);
    },
  };
  return frame;
}
