import { setSection } from './sheets/flow.ts';
import type { Section } from './sheets/flow.ts';
import { PAPERS } from './sheets/paper.ts';
import type { PaperKey } from './sheets/paper.ts';
import { takePen } from './sheets/pen.ts';
import type { Pen } from './sheets/pen.ts';

/** A file to send: `name` holds nothing but a-z, 0-9, - and the ending. */
export type PrintFile = { name: string; bytes: Buffer };

const LONGEST_NAME = 60;
/** A file name that every system and every header takes. */
export function fileName(words: string, ending: 'pdf' | 'csv'): string {
  const plain = words
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST_NAME)
    .replace(/^-+|-+$/g, '');
  return `${plain || 'print'}.${ending}`;
}

type Order = { paper: PaperKey; title: string; at: Date };

/** One PDF from what `draw` puts on it. */
export async function printFile({ paper, title, at }: Order, draw: (pen: Pen) => void): Promise<PrintFile> {
  const pen = takePen(PAPERS[paper], { title, at });
  draw(pen);
  return { name: fileName(title, 'pdf'), bytes: await pen.finish() };
}

/** One PDF of sections, each on new sheets with its own page numbers. */
export const printSections = (order: Order, sections: (pen: Pen) => readonly Section[]): Promise<PrintFile> =>
  printFile(order, (pen) => sections(pen).forEach((section) => setSection(pen, section)));
