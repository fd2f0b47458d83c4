import pg from 'pg';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';
import { containerPlace } from './ledger.ts';
import type { Movement } from './ledger.ts';
import { postLine } from './ledger-store.ts';

/*
 * Three proofs under concurrency, each with an arm where the protection is off and the fault must show: nothing is oversold, the
 * total is the same in every read, two people are two. Straight at the store and the tables, so that there is time for thousands.
 */
let studio: TestStudio;
let pool: pg.Pool;
let lotId: string;
let ids: string[];
beforeAll(async () => {
  studio = await testStudio();
  ({ lotId, containerIds: ids } = await receive(studio.as.manager, ['P-1', 'P-2', 'P-3', 'P-4'], { netG: 300_000 }));
  pool = new pg.Pool({ connectionString: studio.database.appUrl, max: 20 });
  await studio.admin.query('CREATE TABLE unsafe (place text PRIMARY KEY, mg bigint NOT NULL); GRANT ALL ON unsafe TO ashwater_app');
});
afterAll(async () => {
  await pool.end();
  await studio.close();
});

const by = () => ({ studioId: studio.studioId, accountId: studio.ids.manager, at: new Date() });
const move = (from: string, to: string, massMg: number, kind: Movement['kind'] = 'transfer') =>
  studio.app.db.transact(studio.studioId, (tx) =>
    postLine(tx, by(), { id: newId(), kind, lotId, fromPlace: from, toPlace: to, massMg, scaleStepMg: 1000, subjectId: newId(), reason: '' }),
  );
const p99 = (ms: number[]) => ms.sort((a, b) => a - b)[Math.floor(ms.length * 0.99)]!;

test('fifty take 30 g at once from the last kilogram, two hundred times: 33 are granted each time, none oversold', { timeout: 120_000 }, async () => {
  const took: number[] = [];
  const shop = containerPlace(ids[0]!);
  for (let round = 0; round < 200; round += 1) {
    const bottle = containerPlace(newId());
    await move(shop, bottle, 1_000_000);
    const granted = await Promise.all(
      Array.from({ length: 50 }, async () => {
        const began = performance.now();
        const seq = await move(bottle, 'waste', 30_000, 'disposal');
        took.push(performance.now() - began);
        return seq !== undefined;
      }),
    );
    expect(granted.filter(Boolean)).toHaveLength(33);
  }
  process.stdout.write(`  one of fifty takes at once: p99 ${p99(took).toFixed(0)} ms\n`);
});

test('the control: looking first and taking then oversells', async () => {
  let oversold = 0;
  for (let round = 0; round < 20; round += 1) {
    const place = newId();
    await pool.query('INSERT INTO unsafe VALUES ($1, 1000000)', [place]);
    const granted = await Promise.all(
      Array.from({ length: 50 }, async () => {
        const { rows } = await pool.query<{ mg: string }>('SELECT mg FROM unsafe WHERE place = $1', [place]);
        if (Number(rows[0]!.mg) < 30_000) return false;
        await pool.query('UPDATE unsafe SET mg = $2 WHERE place = $1', [place, Number(rows[0]!.mg) - 30_000]);
        return true;
      }),
    );
    if (granted.filter(Boolean).length > 33) oversold += 1;
  }
  expect(oversold).toBeGreaterThan(0);
});

const TRANSFERS = 10_000;
const READERS = 4;
test('ten thousand transfers between containers: every reader sees the same total', { timeout: 180_000 }, async () => {
  const places = ids.map(containerPlace);
  const total = async () => {
    const [row] = await studio.app.db.transact(studio.studioId, (tx) =>
      tx.rows<{ mg: number }>('SELECT sum(balance_mg)::float8 AS mg FROM place_balance WHERE studio_id = $1::uuid AND place = ANY ($2)', [
        studio.studioId,
        places,
      ]),
    );
    return row!.mg;
  };
  const expected = await total();
  let left = TRANSFERS;
  const seen = new Set<number>();
  const mover = async (n: number) => {
    while ((left -= 1) >= 0)
      await move(places[(n + left) % 4]!, places[(n + left * 3 + 1) % 4 === (n + left) % 4 ? (n + left + 2) % 4 : (n + left * 3 + 1) % 4]!, 1 + (left % 5000));
  };
  const reader = async () => {
    while (left > 0) seen.add(await total());
  };
  await Promise.all([...Array.from({ length: 6 }, (_, n) => mover(n)), ...Array.from({ length: READERS }, reader)]);
  expect([...seen]).toEqual([expected]);
  expect(await total()).toBe(expected);
  await studio.admin.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studio.studioId]);
  expect((await studio.admin.query('SELECT * FROM ledger_faults()')).rows).toEqual([]);
});

test('the control: a transfer in two transactions is seen half done', async () => {
  await pool.query(`INSERT INTO unsafe VALUES ('a', 1000), ('b', 1000)`);
  const seen = new Set<number>();
  let moving = true;
  const mover = async () => {
    for (let i = 0; i < 300; i += 1) {
      await pool.query(`UPDATE unsafe SET mg = mg - 1 WHERE place = 'a'`);
      await pool.query(`UPDATE unsafe SET mg = mg + 1 WHERE place = 'b'`);
    }
    moving = false;
  };
  const reader = async () => {
    while (moving) seen.add(Number((await pool.query<{ mg: string }>(`SELECT sum(mg) AS mg FROM unsafe WHERE place IN ('a', 'b')`)).rows[0]!.mg));
  };
  await Promise.all([mover(), reader(), reader()]);
  expect(seen.size).toBeGreaterThan(1);
});

test('two people are two, ten thousand times: one decision for a request, never the asker’s', { timeout: 120_000 }, async () => {
  const { manager, owner, instructor } = studio.ids;
  await studio.admin.query(`ALTER TABLE stock_request DISABLE TRIGGER USER`);
  const { rows } = await studio.admin.query<{ id: string }>(
    `INSERT INTO stock_request (studio_id, id, kind, content, reason, requested_by, at)
     SELECT $1, gen_random_uuid(), 'disposal', '{}', 'x', $2, now() FROM generate_series(1, 5000) RETURNING id`,
    [studio.studioId, manager],
  );
  const decide = async (id: string, who: string, asker: string): Promise<number> => {
    const client = await pool.connect();
    try {
      await client.query('BEGIN');
      await client.query(`SELECT set_config('ashwater.studio_id', $1, true)`, [studio.studioId]);
      const made = await client.query(
        `INSERT INTO stock_decision (studio_id, request_id, requested_by, decided_by, outcome, remark, at) VALUES ($1, $2, $3, $4, 'approved', '', now())
         ON CONFLICT DO NOTHING`,
        [studio.studioId, id, asker, who],
      );
      await client.query('COMMIT');
      return made.rowCount ?? 0;
    } catch {
      await client.query('ROLLBACK');
      return 0;
    } finally {
      client.release();
    }
  };
  const queue = rows.map(({ id }) => id);
  const made: number[] = [];
  await Promise.all(
    Array.from({ length: 5 }, async () => {
      for (let id = queue.pop(); id; id = queue.pop()) {
        // The asker tries in their own name, and in the name of a request that somebody else asked: the composite key knows who asked.
        const [a, b, own, forged] = await Promise.all([
          decide(id, owner, manager),
          decide(id, instructor, manager),
          decide(id, manager, manager),
          decide(id, manager, owner),
        ]);
        made.push(a! + b!);
        expect([own, forged]).toEqual([0, 0]);
      }
    }),
  );
  expect(made.every((n) => n === 1)).toBe(true);
  expect(made).toHaveLength(5000);
});

test('the control: asking whether it is decided, and deciding then, decides twice', async () => {
  await studio.admin.query('CREATE TABLE unsafe_decision (request_id int, decided_by text); GRANT ALL ON unsafe_decision TO ashwater_app');
  const decide = async (id: number, who: string) => {
    const { rows } = await pool.query('SELECT 1 FROM unsafe_decision WHERE request_id = $1', [id]);
    if (rows.length === 0) await pool.query('INSERT INTO unsafe_decision VALUES ($1, $2)', [id, who]);
  };
  for (let id = 0; id < 100; id += 1) await Promise.all([decide(id, 'a'), decide(id, 'b')]);
  const { rows } = await pool.query<{ n: string }>('SELECT count(*) AS n FROM (SELECT 1 FROM unsafe_decision GROUP BY request_id HAVING count(*) > 1) x');
  expect(Number(rows[0]!.n)).toBeGreaterThan(0);
});
