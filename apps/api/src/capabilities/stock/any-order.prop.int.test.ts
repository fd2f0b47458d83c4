import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bareClass } from '../../testing/bare-class.ts';
import { acts, Cabinet, KINDS } from '../../testing/cabinet-play.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let classId: string;
beforeAll(async () => {
  studio = await testStudio();
  classId = (await bareClass(studio)).classId;
});
afterAll(() => studio.close());

const BOUNDLESS = ['supplier', 'air', 'unaccounted'];
type Held = { place: string; lot_id: string; mg: string };
const rowsOf = async (sql: string): Promise<Held[]> => (await studio.admin.query<Held>(sql, [studio.studioId])).rows;
const asMap = (rows: Held[]): Map<string, number> =>
  new Map(rows.filter(({ mg }) => mg !== '0').map(({ place, lot_id, mg }) => [`${place} ${lot_id}`, Number(mg)]));
const balances = () => rowsOf('SELECT place, lot_id, balance_mg AS mg FROM place_balance WHERE studio_id = $1 ORDER BY 1, 2');
/** Balances from the lines alone, without the service's own functions. */
const fromLines = () =>
  rowsOf(
    `SELECT place, lot_id, sum(mg)::bigint AS mg FROM (
       SELECT to_place AS place, lot_id, mass_mg AS mg FROM ledger_line WHERE studio_id = $1
       UNION ALL SELECT from_place, lot_id, -mass_mg FROM ledger_line WHERE studio_id = $1) AS ways GROUP BY 1, 2 ORDER BY 1, 2`,
  );
const lineCount = async (): Promise<number> => Number((await studio.admin.query<{ n: string }>('SELECT count(*) AS n FROM ledger_line')).rows[0]!.n);

test(
  'whatever is done at the cabinet in whatever order, the total is zero, the balances are the lines, nothing is below nothing and the chain holds',
  { timeout: 180_000 },
  async () => {
    const [accepted, refused] = [new Map<string, number>(), new Map<string, number>()];
    const cabinet = new Cabinet(studio, classId);
    await cabinet.receive();
    const tally = (of: Map<string, number>, kind: string) => of.set(kind, (of.get(kind) ?? 0) + 1);
    await fc.assert(
      fc.asyncProperty(acts, async (played) => {
        for (const act of played) {
          const before = await lineCount();
          const answer = await cabinet.play(act);
          if (!answer) continue;
          expect(answer.statusCode, `${JSON.stringify(act)}: ${answer.body}`).toBeLessThan(500);
          const done = answer.statusCode === 200;
          tally(done ? accepted : refused, act.kind);
          if (!done) expect(await lineCount(), `refused, and yet written: ${JSON.stringify(act)}`).toBe(before);
        }
        for (const answer of await cabinet.allBack()) expect(answer.statusCode, `what is in hands can always come back: ${answer.body}`).toBe(200);
        const held = await balances();
        expect(asMap(held), 'the second book').toEqual(new Map([...cabinet.book].filter(([, mg]) => mg !== 0).sort()));
        expect(held).toEqual(await fromLines());
        expect(held.filter(({ place, mg }) => Number(mg) < 0 && !BOUNDLESS.includes(place))).toEqual([]);
        expect(held.reduce((sum, { mg }) => sum + Number(mg), 0)).toBe(0);
        expect((await studio.as.owner.get('/api/ledger/check')).json()).toMatchObject({ intact: true });
      }),
      // One studio goes on through all runs; a shrunk example would start from another state.
      { numRuns: 40, endOnFailure: true },
    );
    // A sequence in which everything is refused proves nothing.
    for (const kind of KINDS.filter((each) => each !== 'receive')) expect(accepted.get(kind) ?? 0, `accepted: ${kind}`).toBeGreaterThan(0);
    expect([...refused.values()].reduce((sum, n) => sum + n, 0)).toBeGreaterThan(50);
  },
);
