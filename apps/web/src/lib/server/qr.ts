import { encode } from 'uqr';

export type QrCode = { size: number; path: string };

/** A QR code as one SVG path in module units, quiet zone of four modules included (ISO/IEC 18004 asks for four). */
export function qrCode(text: string): QrCode {
  const { size, data } = encode(text, { ecc: 'M', border: 4 });
  const runs: string[] = [];
  data.forEach((row, y) => {
    row.forEach((dark, x) => {
      if (dark) runs.push(`M${x} ${y}h1v1h-1z`);
    });
  });
  return { size, path: runs.join('') };
}
