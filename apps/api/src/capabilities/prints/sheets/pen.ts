import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';
import { points } from './paper.ts';
import type { Paper } from './paper.ts';
import { printable, runsOf } from './printable.ts';
import type { Face } from './printable.ts';

/** Places and lengths in mm from the top left corner of the sheet; letter sizes in points. */
export type TextStyle = { size?: number; bold?: boolean; align?: 'left' | 'right' | 'centre'; leading?: number };
export type Pen = {
  paper: Paper;
  /** Begins a new sheet. */
  page(): void;
  /** So many sheets until now. */
  pages(): number;
  /** Goes back to a sheet begun before, counted from 0. */
  turnTo(page: number): void;
  widthMm(text: string, style?: TextStyle): number;
  /** The text in lines no wider than that; a word that is wider by itself is cut. */
  wrap(text: string, widthMm: number, style?: TextStyle): string[];
  /** Height of so many lines. */
  heightMm(lines: number, style?: TextStyle): number;
  /** Draws lines one below the other, the first within its line height below `y`; returns the y below the last. */
  lines(lines: readonly string[], box: { x: number; y: number; width?: number }, style?: TextStyle): number;
  line(x1: number, y1: number, x2: number, y2: number, thickMm?: number): void;
  rect(x: number, y: number, width: number, height: number, thickMm?: number): void;
  /** Many filled rectangles as one shape. */
  fill(rects: readonly { x: number; y: number; width: number; height: number }[]): void;
  finish(): Promise<Buffer>;
};

export const BODY_SIZE = 10;
/** Room a line takes, as a multiple of its letter size: enough for the lettering's ascent and descent, which together are 1.3. */
const LEADING = 1.3;
/** Baseline below the top of the line, as a share of the letter size: the lettering's ascent. */
const ASCENT = 0.984;
const HAIR_MM = 0.25;

const { resolve } = createRequire(import.meta.url);
const fontOf = (face: Face, weight: 400 | 700): string =>
  resolve(`@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-${face}-${weight}-normal.woff`);
/** The lettering, as .woff: pdfkit does not read .woff2. */
export const FONT_FILES: Record<Face, { plain: string; bold: string }> = {
  latin: { plain: fontOf('latin', 400), bold: fontOf('latin', 700) },
  'latin-ext': { plain: fontOf('latin-ext', 400), bold: fontOf('latin-ext', 700) },
};
const fontFile = (face: Face, bold: boolean): string => FONT_FILES[face][bold ? 'bold' : 'plain'];

/** Words and pieces of them, so that none is wider than `widthMm`: cut at a hyphen, else wherever it must be. */
function pieces(word: string, widthMm: number, width: (text: string) => number): string[] {
  if (width(word) <= widthMm) return [word];
  const parts = word.split(/(?<=-)(?=.)/);
  if (parts.length > 1) return parts.flatMap((part) => pieces(part, widthMm, width));
  const cut: string[] = [];
  let piece = '';
  for (const sign of word) {
    if (piece !== '' && width(piece + sign) > widthMm) {
      cut.push(piece);
      piece = '';
    }
    piece += sign;
  }
  return [...cut, piece];
}

function wrapText(text: string, widthMm: number, width: (text: string) => number): string[] {
  const wrapped: string[] = [];
  let line = '';
  for (const word of printable(text).split(' ').filter(Boolean))
    for (const [i, piece] of pieces(word, widthMm, width).entries()) {
      const longer = line === '' ? piece : `${line} ${piece}`;
      if (i === 0 && (line === '' || width(longer) <= widthMm)) {
        line = longer;
        continue;
      }
      wrapped.push(line);
      line = piece;
    }
  return line === '' ? wrapped : [...wrapped, line];
}

/** Measures a word once: the same few hundred words come on every card. */
function measure(doc: PDFKit.PDFDocument): (text: string, size: number, bold: boolean) => number {
  const known = new Map<string, number>();
  const ofRun = (run: { face: Face; text: string }, bold: boolean): number => {
    const key = `${bold ? 'b' : ''}${run.face}|${run.text}`;
    let em = known.get(key);
    if (em === undefined) {
      em = doc.font(fontFile(run.face, bold)).fontSize(1000).widthOfString(run.text) / 1000;
      known.set(key, em);
    }
    return em;
  };
  const ofWord = (word: string, bold: boolean) => runsOf(word).reduce((sum, run) => sum + ofRun(run, bold), 0);
  return (text, size, bold) => {
    const words = text.split(' ');
    const blanks = (words.length - 1) * ofRun({ face: 'latin', text: ' ' }, bold);
    return (words.reduce((sum, word) => sum + ofWord(word, bold), blanks) * size) / points(1);
  };
}

/** A blank document on one kind of paper, and what draws on it: black only. */
export function takePen(paper: Paper, about: { title: string; at: Date }): Pen {
  const doc = new PDFDocument({
    size: [points(paper.widthMm), points(paper.heightMm)],
    margin: 0,
    autoFirstPage: false,
    bufferPages: true,
    info: { Title: about.title, CreationDate: about.at },
  });
  const chunks: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => chunks.push(chunk));
  const widthOf = measure(doc);
  const width = (text: string, { size = BODY_SIZE, bold = false }: TextStyle = {}) => widthOf(printable(text), size, bold);
  const lineMm = ({ size = BODY_SIZE, leading = LEADING }: TextStyle = {}) => (size * leading) / points(1);

  function drawLine(text: string, x: number, baseline: number, { size = BODY_SIZE, bold = false }: TextStyle): void {
    let at = x;
    for (const run of runsOf(text)) {
      doc.font(fontFile(run.face, bold)).fontSize(size);
      // pdfkit takes 'alphabetic' as a name for the baseline; with lineBreak off it draws exactly here and turns no page.
      doc.text(run.text, points(at), points(baseline), { lineBreak: false, baseline: 'alphabetic' });
      at += widthOf(run.text, size, bold);
    }
  }

  return {
    paper,
    page: () => void doc.addPage(),
    pages: () => doc.bufferedPageRange().count,
    turnTo: (page) => void doc.switchToPage(page),
    widthMm: width,
    wrap: (text, widthMm, style = {}) => wrapText(text, widthMm, (part) => widthOf(part, style.size ?? BODY_SIZE, style.bold ?? false)),
    heightMm: (count, style) => count * lineMm(style),
    lines(texts, { x, y, width: box = 0 }, style = {}) {
      let top = y;
      for (const text of texts.map(printable)) {
        const spare = box - width(text, style);
        const shift = style.align === 'right' ? spare : style.align === 'centre' ? spare / 2 : 0;
        drawLine(text, x + shift, top + ((style.size ?? BODY_SIZE) * ASCENT) / points(1), style);
        top += lineMm(style);
      }
      return top;
    },
    line: (x1, y1, x2, y2, thickMm = HAIR_MM) =>
      void doc.lineWidth(points(thickMm)).moveTo(points(x1), points(y1)).lineTo(points(x2), points(y2)).stroke('black'),
    rect: (x, y, w, h, thickMm = HAIR_MM) => void doc.lineWidth(points(thickMm)).rect(points(x), points(y), points(w), points(h)).stroke('black'),
    fill(rects) {
      for (const { x, y, width: w, height } of rects) doc.rect(points(x), points(y), points(w), points(height));
      doc.fill('black');
    },
    finish: () =>
      new Promise((done) => {
        doc.on('end', () => done(Buffer.concat(chunks)));
        doc.end();
      }),
  };
}
