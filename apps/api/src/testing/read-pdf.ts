import jsqr from 'jsqr';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { PDFPageProxy } from 'pdfjs-dist';

/** Places in mm from the top left corner of the page; `y` is the top of the letters, not of the line. */
export type PdfText = { text: string; x: number; y: number; width: number; height: number };
export type PdfRect = { x: number; y: number; width: number; height: number };
export type PdfPage = { widthMm: number; heightMm: number; items: PdfText[]; text: string; strokes: PdfRect[]; fills: PdfRect[] };

const mm = (pt: number): number => (pt * 25.4) / 72;
type Box = [left: number, top: number, right: number, bottom: number];

// What pdf.js writes into a path's list of numbers before the coordinates of each part.
const MOVE = 0;
const LINE = 1;
const CURVE = 2;
const QUADRATIC = 3;
const SIZES: Record<number, number> = { [MOVE]: 2, [LINE]: 2, [CURVE]: 6, [QUADRATIC]: 4 };

/** The outline of each part of a path: a part begins where the pen is put down. */
function partsOf(data: ArrayLike<number>): Box[] {
  const parts: Box[] = [];
  for (let i = 0; i < data.length;) {
    const act = data[i]!;
    const size = SIZES[act] ?? 0;
    if (act === MOVE) parts.push([Infinity, Infinity, -Infinity, -Infinity]);
    const part = parts.at(-1);
    for (let k = 1; part && k + 1 <= size; k += 2) {
      const [x, y] = [data[i + k]!, data[i + k + 1]!];
      part.splice(0, 4, Math.min(part[0], x), Math.min(part[1], y), Math.max(part[2], x), Math.max(part[3], y));
    }
    i += 1 + size;
  }
  return parts;
}

/** pdfkit turns the page upside down once, so that its own y runs downwards: paths keep that, text is turned back. */
async function pathsOf(page: PDFPageProxy): Promise<Pick<PdfPage, 'strokes' | 'fills'>> {
  const { fnArray, argsArray } = await page.getOperatorList();
  const found = { strokes: [] as PdfRect[], fills: [] as PdfRect[] };
  fnArray.forEach((fn, i) => {
    if (fn !== OPS.constructPath) return;
    const [act, [data]] = argsArray[i] as [number, [ArrayLike<number> | null]];
    if (!data) return;
    const into = act === OPS.stroke || act === OPS.closeStroke ? found.strokes : found.fills;
    for (const [left, top, right, bottom] of partsOf(data)) into.push({ x: mm(left), y: mm(top), width: mm(right - left), height: mm(bottom - top) });
  });
  return found;
}

/** Share of the letter size that the letters of the studio's lettering stand above and hang below the line: its ascenders, without accents. */
const ABOVE = 0.72;
const BELOW = 0.22;
async function textsOf(page: PDFPageProxy, heightMm: number): Promise<PdfText[]> {
  const { items } = await page.getTextContent();
  return items.flatMap((item) => {
    if (!('str' in item) || item.str.trim() === '') return [];
    const [, , , size, x, baseline] = item.transform as number[];
    const height = mm(size!);
    return [{ text: item.str, x: mm(x!), y: heightMm - mm(baseline!) - height * ABOVE, width: mm(item.width), height: height * (ABOVE + BELOW) }];
  });
}

/** What a PDF says and draws, page by page. */
export async function readPdf(bytes: Uint8Array): Promise<PdfPage[]> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: PdfPage[] = [];
  for (let n = 1; n <= pdf.numPages; n += 1) {
    const page = await pdf.getPage(n);
    const { width, height } = page.getViewport({ scale: 1 });
    const items = await textsOf(page, mm(height));
    const text = items
      .map((item) => item.text)
      .join(' ')
      .replace(/\s+/g, ' ');
    pages.push({ widthMm: mm(width), heightMm: mm(height), items, text, ...(await pathsOf(page)) });
  }
  await pdf.loadingTask.destroy();
  return pages;
}

/** Pairs of texts that print over one another. */
export function overlaps({ items }: PdfPage): string[] {
  const over = (a: PdfText, b: PdfText) =>
    Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x) > 0.1 && Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y) > 0.1;
  return items.flatMap((a, i) => items.slice(i + 1).flatMap((b) => (over(a, b) ? [`"${a.text}" and "${b.text}"`] : [])));
}

/** Texts, lines and squares nearer to the edge of the sheet than `marginMm`. */
export function outside({ items, strokes, fills, widthMm, heightMm }: PdfPage, marginMm: number): string[] {
  const beyond = ({ x, y, width, height }: PdfRect) =>
    x < marginMm - 0.05 || y < marginMm - 0.05 || x + width > widthMm - marginMm + 0.05 || y + height > heightMm - marginMm + 0.05;
  return [...items.filter(beyond).map(({ text }) => text), ...[...strokes, ...fills].filter(beyond).map((rect) => JSON.stringify(rect))];
}

const DOTS = 300;
/** What the QR code at this place says; `sizeMm` includes its quiet zone. */
export function readQr({ fills }: PdfPage, at: { x: number; y: number; sizeMm: number }): string | undefined {
  const pixels = new Uint8ClampedArray(DOTS * DOTS * 4).fill(255);
  const dot = (mm: number, from: number) => Math.min(DOTS, Math.max(0, Math.round(((mm - from) * DOTS) / at.sizeMm)));
  for (const { x, y, width, height } of fills)
    for (let row = dot(y, at.y); row < dot(y + height, at.y); row += 1)
      for (let column = dot(x, at.x); column < dot(x + width, at.x); column += 1) pixels.fill(0, (row * DOTS + column) * 4, (row * DOTS + column) * 4 + 3);
  return jsqr.default(pixels, DOTS, DOTS)?.data;
}
