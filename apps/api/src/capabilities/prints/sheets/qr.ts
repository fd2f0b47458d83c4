import { encode } from 'uqr';
import type { Pen } from './pen.ts';

/** ISO/IEC 18004 asks for a quiet zone of four modules. */
const QUIET = 4;

/** A QR code drawn as squares, quiet zone included in `sizeMm`: it stays sharp at any printer's resolution. */
export function drawQr(pen: Pen, text: string, at: { x: number; y: number; sizeMm: number }): void {
  const { size, data } = encode(text, { ecc: 'M', border: QUIET });
  const unit = at.sizeMm / size;
  const squares = data.flatMap((row, y) =>
    runsOfDark(row).map(({ from, length }) => ({ x: at.x + from * unit, y: at.y + y * unit, width: length * unit, height: unit })),
  );
  pen.fill(squares);
}

/** Neighbouring dark modules as one bar: no hairline between them on paper, and a smaller file. */
function runsOfDark(row: readonly boolean[]): { from: number; length: number }[] {
  const runs: { from: number; length: number }[] = [];
  row.forEach((dark, x) => {
    const last = runs.at(-1);
    if (!dark) return;
    if (last && last.from + last.length === x) last.length += 1;
    else runs.push({ from: x, length: 1 });
  });
  return runs;
}
