import { z } from 'zod';

/** ISO 216 A4, or US Letter. */
export const PrintPaper = z.enum(['a4', 'letter']);
export type PrintPaper = z.infer<typeof PrintPaper>;

/** Sheets of labels, named by their geometry: across x down, the size of one label. */
export const LABEL_SHEETS = {
  '2x4-99.1x67.7': { name: '2 x 4, 99.1 x 67.7 mm', paper: 'a4', labels: 8 },
  '2x3-101.6x84.7': { name: '2 x 3, 101.6 x 84.7 mm', paper: 'letter', labels: 6 },
  '2x2-105x148.5': { name: '2 x 2, 105 x 148.5 mm', paper: 'a4', labels: 4 },
} as const satisfies Record<string, { name: string; paper: PrintPaper; labels: number }>;
export type LabelSheetKey = keyof typeof LABEL_SHEETS;
export const LABEL_SHEET_KEYS = Object.keys(LABEL_SHEETS) as [LabelSheetKey, ...LabelSheetKey[]];
/** How far a print on labels may be moved each way, mm. */
export const MOST_OFFSET_MM = 20;
