/** Sheet sizes in mm: ISO 216 A4, and US Letter (ANSI/ASME Y14.1, 8.5 x 11 in). */
export const PAPERS = {
  a4: { name: 'A4', widthMm: 210, heightMm: 297 },
  letter: { name: 'Letter', widthMm: 215.9, heightMm: 279.4 },
} as const;
export type PaperKey = keyof typeof PAPERS;
export type Paper = (typeof PAPERS)[PaperKey];

/** Nothing is printed nearer to the edge of a sheet: ordinary printers leave the rim white. */
export const MARGIN_MM = 10;

const POINTS_PER_MM = 72 / 25.4;
export const points = (mm: number): number => mm * POINTS_PER_MM;
