import { appendFile, readFile } from 'node:fs/promises';

/** Where the ledger of a studio ended at a time: written outside the database, so that whoever changes the database does not change it. */
export type Anchor = { studioId: string; seq: number; hash: string; at: string };

/** Adds a line to the file (one JSON object a line; nothing in it is secret). */
export const writeAnchor = (file: string, anchor: Anchor): Promise<void> => appendFile(file, `${JSON.stringify(anchor)}\n`, { mode: 0o640 });

/** A studio's anchors, oldest first. A file that is not there has none; a line cut off by a crash is passed over. */
export async function anchorsOf(file: string, studioId: string): Promise<Anchor[]> {
  const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return '';
    throw error;
  });
  return text.split('\n').flatMap((line): Anchor[] => {
    if (!line.includes(studioId)) return [];
    try {
      const anchor = JSON.parse(line) as Anchor;
      return anchor.studioId === studioId ? [anchor] : [];
    } catch {
      return [];
    }
  });
}
