import type { Block } from './flow.ts';
import { MARGIN_MM } from './paper.ts';
import type { Pen, TextStyle } from './pen.ts';

export const LEFT_MM = MARGIN_MM;
export const widthOf = (pen: Pen): number => pen.paper.widthMm - 2 * MARGIN_MM;
/** A tick square somebody in gloves can hit with a pencil. */
export const TICK_MM = 8.5;

export type Place = { x?: number; width?: number; gapMm?: number };

/** Running text, whole on one sheet. */
export function paragraph(pen: Pen, text: string, style: TextStyle = {}, { x = LEFT_MM, width = widthOf(pen), gapMm = 1.5 }: Place = {}): Block {
  const lines = pen.wrap(text, width, style);
  return { heightMm: pen.heightMm(lines.length, style) + gapMm, draw: (y) => void pen.lines(lines, { x, y, width }, style) };
}

export const gap = (heightMm: number): Block => ({ heightMm, draw: () => undefined });

/** A heading, never alone at the foot of a sheet. */
export const heading = (pen: Pen, text: string): Block => ({ ...paragraph(pen, text, { size: 13, bold: true }, { gapMm: 1.5 }), withNext: true });

/** Text with a thick frame and a word in front that says what it is: the frame and the word carry it, not a colour. */
export function boxed(pen: Pen, word: string, text: string, { x = LEFT_MM, width = widthOf(pen), gapMm = 2 }: Place = {}, size = 10): Block {
  const pad = 2;
  const wordMm = pen.widthMm(word, { size, bold: true }) + 3;
  const lines = pen.wrap(text, width - 2 * pad - wordMm, { size });
  const inner = pen.heightMm(Math.max(1, lines.length), { size });
  return {
    heightMm: inner + 2 * pad + gapMm,
    draw(y) {
      pen.rect(x, y, width, inner + 2 * pad, 0.6);
      pen.lines([word], { x: x + pad, y: y + pad }, { size, bold: true });
      pen.lines(lines, { x: x + pad + wordMm, y: y + pad }, { size });
    },
  };
}

/** Facts in two columns, each a name and what it is. */
export function facts(pen: Pen, pairs: readonly (readonly [string, string])[]): Block[] {
  const half = (widthOf(pen) - 6) / 2;
  const nameMm = 34;
  const cells = pairs.map(([name, value]) => ({ name: pen.wrap(name, nameMm - 2), value: pen.wrap(value, half - nameMm, { bold: true }) }));
  const rows = Array.from({ length: Math.ceil(cells.length / 2) }, (_, i) => cells.slice(2 * i, 2 * i + 2));
  return rows.map((row) => ({
    heightMm: pen.heightMm(Math.max(...row.map((cell) => Math.max(cell.name.length, cell.value.length)))) + 0.8,
    draw: (y) =>
      row.forEach((cell, i) => {
        const x = LEFT_MM + i * (half + 6);
        pen.lines(cell.name, { x, y });
        pen.lines(cell.value, { x: x + nameMm, y }, { bold: true });
      }),
  }));
}
