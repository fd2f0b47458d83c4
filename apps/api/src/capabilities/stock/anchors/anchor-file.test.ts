import { appendFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { anchorsOf, writeAnchor } from './anchor-file.ts';

const dir = mkdtempSync(join(tmpdir(), 'ashwater-anchors-'));
afterAll(() => rmSync(dir, { recursive: true }));
const anchor = (studioId: string, seq: number) => ({ studioId, seq, hash: `h${seq}`, at: '2026-03-01T00:00:00.000Z' });

test('each studio gets its own anchors back, in their order; a line cut off is passed over', async () => {
  const file = join(dir, 'anchors.ndjson');
  expect(await anchorsOf(file, 'a')).toEqual([]);
  await writeAnchor(file, anchor('a', 1));
  await writeAnchor(file, anchor('b', 5));
  appendFileSync(file, '{"studioId":"a","seq":2,"ha\n');
  await writeAnchor(file, anchor('a', 3));
  expect(await anchorsOf(file, 'a')).toEqual([anchor('a', 1), anchor('a', 3)]);
});

test('a file that cannot be read is a fault, not an empty one', async () => {
  await expect(anchorsOf(dir, 'a')).rejects.toThrow('EISDIR');
});
