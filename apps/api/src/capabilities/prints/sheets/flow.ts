import { MARGIN_MM } from './paper.ts';
import type { Pen } from './pen.ts';

/** A piece that is never broken across sheets. `heading` is drawn again on top of a sheet that begins in the middle of a table. */
export type Block = { heightMm: number; draw(y: number): void; heading?: Block; withNext?: true };
/** What stands at the top and the foot of every sheet of a section, which counts its own pages. */
export type Frame = { headMm: number; footMm: number; draw(page: number, pages: number): void };
export type Section = { frame: Frame; blocks: readonly Block[] };

export const topOf = (frame: Frame): number => MARGIN_MM + frame.headMm;
export const bottomOf = (pen: Pen, frame: Frame): number => pen.paper.heightMm - MARGIN_MM - frame.footMm;

/** What must stand together with the block at `index`: itself and, after a heading, what follows. */
function needed(blocks: readonly Block[], index: number): number {
  const block = blocks[index]!;
  return block.heightMm + (block.withNext && index + 1 < blocks.length ? needed(blocks, index + 1) : 0);
}

/** Sets the blocks of a section one below the other on new sheets, then its frames, now that the pages are counted. */
export function setSection(pen: Pen, { frame, blocks }: Section): void {
  const first = pen.pages();
  const [top, bottom] = [topOf(frame), bottomOf(pen, frame)];
  pen.page();
  let y = top;
  blocks.forEach((block, i) => {
    if (block.heightMm > bottom - top) throw new Error(`a block of ${block.heightMm.toFixed(0)} mm is higher than a sheet`);
    const turn = y > top && y + Math.min(needed(blocks, i), bottom - top) > bottom;
    if (turn) {
      pen.page();
      y = top;
      if (block.heading) {
        block.heading.draw(y);
        y += block.heading.heightMm;
      }
    }
    block.draw(y);
    y += block.heightMm;
  });
  const pages = pen.pages() - first;
  for (let page = 1; page <= pages; page += 1) {
    pen.turnTo(first + page - 1);
    frame.draw(page, pages);
  }
  pen.turnTo(first + pages - 1);
}
