/*
 * How the books behave when they are long: one studio with a million lines, then two hundred with ten million together.
 *   node_modules/.bin/node tests/bench/ledger-scale.ts            (a million lines in one studio)
 *   node_modules/.bin/node tests/bench/ledger-scale.ts 10000000 200
 * The chains are made with the database's own function, as the trigger makes them, so that they are real; the trigger itself would
 * write the head a million times in one transaction.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { readCabinet } from '../../apps/api/src/capabilities/stock/service.ts';
import { balanceMg } from '../../apps/api/src/capabilities/stock/ledger-store.ts';
import { countSheet } from '../../apps/api/src/capabilities/stock/service.ts';
import { makeReport } from '../../apps/api/src/capabilities/stock/books/report-service.ts';
import { readLedger } from '../../apps/api/src/capabilities/stock/books/service.ts';
import { openDatabase as openService } from '../../apps/api/src/plugins/database/database.ts';
import type { Tx } from '../../apps/api/src/plugins/database/database.ts';
import { newId } from '../../apps/api/src/ids.ts';
import { openDatabase } from '../../infra/database.ts';
import { migrate, prepareRoles } from '../../infra/migrate.ts';

const [lines = 1_000_000, studios = 1] = process.argv.slice(2).map(Number);
const CONTAINERS = 40;
const YEARS = 3;
const dataDir = mkdtempSync(join(tmpdir(), 'ashwater-scale-'));
chmodSync(dataDir, 0o755);
const database = await openDatabase({ dataDir });
const admin = new pg.Client({ connectionString: database.adminUrl });

/** A studio with forty containers of two lots and so many lines over three years: out of a container and back, a little used each time. */
async function fill(perStudio: number): Promise<string> {
  const id = newId();
  const [account, naoh, koh] = [newId(), newId(), newId()];
  const run = (sql: string, values: unknown[]) => admin.query(sql, values);
  await run(`INSERT INTO studio (id, name, short_name, time_zone, emergency_phone, created_at) VALUES ($1, $2, $2, 'Europe/Lisbon', '112', now())`, [
    id,
    `s${id.slice(-12)}`,
  ]);
  await run(`INSERT INTO account (studio_id, id, email, name, role, password_hash, created_at) VALUES ($1, $2, 'm@example.org', 'M', 'manager', 'x', now())`, [
    id,
    account,
  ]);
  for (const [lot, substance] of [
    [naoh, 'NaOH'],
    [koh, 'KOH'],
  ])
    await run(
      `INSERT INTO lot (studio_id, id, substance, supplier, lot_number, purity_percent, purity_uncertainty_percent, sds_link, received_at, received_by)
       VALUES ($1, $2, $3, 'S', $3, 99, 0.5, '', now() - interval '3 years', $4)`,
      [id, lot, substance, account],
    );
  await run(
    `INSERT INTO container (studio_id, id, lot_id, label, gross_mg, tare_mg, scale_step_mg, received_at)
     SELECT $1, gen_random_uuid(), CASE WHEN n % 4 = 0 THEN $3::uuid ELSE $2::uuid END, 'C-' || n, 900000000000, 250000, 1000, now() - interval '3 years'
     FROM generate_series(1, ${CONTAINERS}) n`,
    [id, naoh, koh],
  );
  await run('SELECT fill_ledger($1, $2, $3)', [id, account, perStudio]);
  await run(
    `INSERT INTO place_balance (studio_id, place, lot_id, balance_mg)
     SELECT $1, place, lot_id, sum(mg) FROM (
       SELECT to_place AS place, lot_id, mass_mg AS mg FROM ledger_line WHERE studio_id = $1
       UNION ALL SELECT from_place, lot_id, -mass_mg FROM ledger_line WHERE studio_id = $1) e GROUP BY 2, 3`,
    [id],
  );
  return id;
}

const FILL = `CREATE FUNCTION fill_ledger(of_studio uuid, by_account uuid, lines bigint) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  line ledger_line; last bytea := '\\x00'; n bigint; turn bigint; bottles container[];
BEGIN
  SELECT array_agg(c ORDER BY c.label) INTO bottles FROM container c WHERE c.studio_id = of_studio;
  line.studio_id := of_studio; line.account_id := by_account; line.scale_step_mg := 1000; line.reason := ''; line.hash_form := 2;
  FOR n IN 1..lines LOOP
    turn := n - ${CONTAINERS} - 1;
    line.seq := n; line.id := gen_random_uuid(); line.previous_hash := last;
    line.at := date_trunc('milliseconds', now() - interval '${YEARS} years' + (n::float8 / lines) * interval '${YEARS} years');
    IF n <= ${CONTAINERS} THEN
      line.kind := 'receipt'; line.lot_id := bottles[n].lot_id; line.mass_mg := bottles[n].gross_mg - bottles[n].tare_mg;
      line.from_place := 'supplier'; line.to_place := 'container:' || bottles[n].id;
    ELSE
      line.kind := (ARRAY['checkout', 'return', 'used'])[turn % 3 + 1]; line.mass_mg := (ARRAY[300000, 100000, 200000])[turn % 3 + 1];
      line.lot_id := bottles[(turn / 3) % ${CONTAINERS} + 1].lot_id;
      line.from_place := CASE turn % 3 WHEN 0 THEN 'container:' || bottles[(turn / 3) % ${CONTAINERS} + 1].id ELSE 'class:' || of_studio END;
      line.to_place := CASE turn % 3 WHEN 0 THEN 'class:' || of_studio WHEN 1 THEN 'container:' || bottles[(turn / 3) % ${CONTAINERS} + 1].id ELSE 'product:' || of_studio END;
    END IF;
    line.hash := sha256(ledger_memento(line));
    INSERT INTO ledger_line SELECT line.*;
    last := line.hash;
  END LOOP;
  INSERT INTO chain_head (studio_id, chain, seq, hash) VALUES (of_studio, 'ledger', lines, last);
END $$`;

type Asked = { tx: Tx; studio: { id: string; timeZone: string }; actor: { id: string; kind: 'staff' }; now: Date };
async function timed(what: string, limitMs: number, work: () => Promise<unknown>, times = 5): Promise<void> {
  const took: number[] = [];
  for (let i = 0; i < times; i += 1) {
    const began = performance.now();
    await work();
    took.push(performance.now() - began);
  }
  const median = took.sort((a, b) => a - b)[Math.floor(times / 2)]!;
  console.log(
    `${what.padEnd(52)} median ${median.toFixed(2).padStart(9)} ms, longest ${took.at(-1)!.toFixed(2)} ms ${median <= limitMs ? '' : ` (over ${limitMs} ms)`}`,
  );
  if (median > limitMs) process.exitCode = 1;
}

try {
  await migrate(database.adminUrl);
  await prepareRoles(database.adminUrl);
  await admin.connect();
  await admin.query('SET synchronous_commit = off');
  await admin.query('ALTER TABLE ledger_line DISABLE TRIGGER chain');
  await admin.query(FILL);
  const began = performance.now();
  const ids: string[] = [];
  for (let i = 0; i < studios; i += 1) ids.push(await fill(Math.round(lines / studios)));
  await admin.query('VACUUM ANALYZE ledger_line');
  await admin.query('ANALYZE');
  console.log(`${lines} lines in ${studios} ${studios === 1 ? 'studio' : 'studios'}, written in ${((performance.now() - began) / 1000).toFixed(0)} s`);
  const service = openService(database.appUrl, 4);
  const id = ids[Math.floor(ids.length / 2)]!;
  const { rows } = await admin.query<{ place: string; lot_id: string; account: string }>(
    `SELECT place, lot_id, (SELECT id FROM account WHERE studio_id = $1) AS account FROM place_balance WHERE studio_id = $1 AND place LIKE 'container:%' LIMIT 1`,
    [id],
  );
  const { place, lot_id: lotId, account } = rows[0]!;
  const ask = <T>(work: (asked: never) => Promise<T>) =>
    service.transact(id, (tx) =>
      work({ tx, studio: { id, timeZone: 'Europe/Lisbon' }, actor: { id: account, kind: 'staff' }, now: new Date() } satisfies Asked as never),
    );
  /** Which scans a read is made of, each once, after PostgreSQL's own EXPLAIN. */
  const plansOf = async (what: string, work: (asked: never) => Promise<unknown>) => {
    const scans = new Set<string>();
    await service.transact(id, (tx) => {
      const explaining: Tx = {
        rows: async (text, values) => {
          const plan = await tx.rows<{ 'QUERY PLAN': string }>(`EXPLAIN ${text}`, values);
          for (const { 'QUERY PLAN': line } of plan) for (const [scan] of line.matchAll(/(Seq|Index|Index Only|Bitmap Heap) Scan.* on \w+/g)) scans.add(scan);
          return tx.rows(text, values);
        },
      };
      return work({
        tx: explaining,
        studio: { id, timeZone: 'Europe/Lisbon' },
        actor: { id: account, kind: 'staff' },
        now: new Date(),
      } satisfies Asked as never);
    });
    console.log(`  ${what}: ${[...scans].join('; ')}`);
  };
  const day = (back: number) => new Date(Date.now() - back * 86_400_000).toISOString().slice(0, 10);
  const READS: [what: string, limitMs: number, work: (asked: never) => Promise<unknown>, times?: number][] = [
    ['balance of a container', 5, ({ tx }: Asked) => balanceMg(tx, id, place, lotId), 50],
    ['cabinet', 300, readCabinet],
    ['count sheet', 300, countSheet],
    ['newest page of the ledger with balances', 300, (asked) => readLedger(asked, { limit: 200 })],
    ['a container’s page of the ledger', 300, (asked) => readLedger(asked, { limit: 200, containerId: place.split(':')[1]! })],
    ['report of the last month', 1000, (asked) => makeReport(asked, { id: newId(), fromDay: day(31), toDay: day(1) })],
    ['report of a month two years ago', 1000, (asked) => makeReport(asked, { id: newId(), fromDay: day(761), toDay: day(731) })],
  ];
  for (const [what, limitMs, work, times] of READS) {
    await timed(what, limitMs, () => ask(work), times);
    await plansOf(what, work);
  }
  const verify = performance.now();
  let faults = 0;
  const queue = [...ids];
  // Two at a time, as many as this machine has cores.
  await Promise.all(
    [1, 2].map(async () => {
      const client = new pg.Client({ connectionString: database.adminUrl });
      await client.connect();
      for (let next = queue.pop(); next; next = queue.pop()) {
        await client.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [next]);
        faults += (await client.query('SELECT * FROM ledger_faults()')).rows.length;
      }
      await client.end();
    }),
  );
  const verifiedS = (performance.now() - verify) / 1000;
  console.log(`whole ledger verified in ${verifiedS.toFixed(1)} s, ${faults} faults${verifiedS <= 30 ? '' : ' (over 30 s)'}`);
  if (faults > 0 || verifiedS > 30) process.exitCode = 1;
  await service.close();
} finally {
  await admin.end();
  await database.stop();
  rmSync(dataDir, { recursive: true, force: true });
}
