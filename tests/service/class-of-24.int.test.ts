import { afterAll, beforeAll, expect, test } from 'vitest';
import { classBody, ok, publishedRecipe } from '../../apps/api/src/testing/classroom.ts';
import { testStudio } from '../../apps/api/src/testing/test-studio.ts';
import type { TestStudio } from '../../apps/api/src/testing/test-studio.ts';

const ISSUED_MS = 300;
const PRINTED_MS = 2000;
const TRIES = 8;

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const timed = async (work: () => Promise<unknown>): Promise<number> => {
  const began = performance.now();
  await work();
  return performance.now() - began;
};

// The best of eight: other tests run on the same two cores, and the first time everything is loaded.
test('a class of 24 is issued in one request within 300 ms, and its cards are a PDF within 2 s', { timeout: 60_000 }, async () => {
  const { versionId } = await publishedRecipe(studio);
  const [issued, printed]: [number[], number[]] = [[], []];
  for (let i = 0; i < TRIES; i += 1) {
    const body = await classBody(studio, versionId, { stations: 24, title: `Full ${i}`, name: `Bench ${i}` });
    await ok(studio.as.instructor.post('/api/classes', body));
    issued.push(await timed(() => ok(studio.as.instructor.post(`/api/classes/${body.id}/publish`, {}))));
    printed.push(
      await timed(async () => {
        const pdf = await studio.as.instructor.get(`/api/classes/${body.id}/prints/cards.pdf`);
        expect(pdf.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
      }),
    );
  }
  process.stdout.write(`  24 cards issued in ${issued.map(Math.round).join(', ')} ms, as a PDF in ${printed.map(Math.round).join(', ')} ms\n`);
  expect(Math.min(...issued)).toBeLessThan(ISSUED_MS);
  expect(Math.min(...printed)).toBeLessThan(PRINTED_MS);
});
