import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { handClock } from '../../../testing/clock.ts';
import { receive } from '../../../testing/stock-steps.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';
import { anchorsOf } from './anchor-file.ts';

const dir = mkdtempSync(join(tmpdir(), 'ashwater-anchors-'));
const anchorFile = join(dir, 'anchors.ndjson');
const clock = handClock();
let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio({ clock: clock.read, anchorFile });
  await receive(studio.as.manager, ['N-1', 'N-2']);
  // A day on, the first request writes where the ledger ends.
  clock.forward(24 * 60);
  await studio.as.manager.get('/api/cabinet');
  await receive(studio.as.manager, ['N-3']);
});
afterAll(async () => {
  await studio.close();
  rmSync(dir, { recursive: true });
});
const check = async () => (await studio.as.owner.get('/api/ledger/check')).json<{ intact: boolean; words: string }>();

test('once a day the end of the ledger is written outside the database, and an untouched ledger agrees with it', async () => {
  await expect.poll(() => anchorsOf(anchorFile, studio.studioId)).toHaveLength(1);
  expect((await anchorsOf(anchorFile, studio.studioId))[0]).toMatchObject({ seq: 2 });
  expect(await check()).toMatchObject({ intact: true });
});

test('a tail that was cut off, the head set back and the balances with it: the chain holds, the anchor tells', async () => {
  const { admin, studioId } = studio;
  await admin.query('ALTER TABLE ledger_line DISABLE TRIGGER USER');
  await admin.query('DELETE FROM ledger_line WHERE studio_id = $1 AND seq >= 2', [studioId]);
  await admin.query(
    `UPDATE chain_head h SET seq = l.seq, hash = l.hash FROM ledger_line l WHERE h.studio_id = $1 AND h.chain = 'ledger' AND l.studio_id = $1 AND l.seq = 1`,
    [studioId],
  );
  await admin.query(
    `DELETE FROM place_balance b WHERE studio_id = $1 AND NOT EXISTS (SELECT FROM ledger_line l WHERE l.studio_id = $1 AND b.lot_id = l.lot_id AND b.place IN (l.to_place, l.from_place))`,
    [studioId],
  );
  await admin.query(
    `UPDATE place_balance b SET balance_mg = CASE WHEN b.place = l.to_place THEN l.mass_mg ELSE -l.mass_mg END FROM ledger_line l WHERE b.studio_id = $1 AND l.studio_id = $1`,
    [studioId],
  );
  await admin.query(`SELECT set_config('ashwater.studio_id', $1, false)`, [studioId]);
  expect((await admin.query('SELECT * FROM ledger_faults()')).rows, 'the database’s own check sees nothing').toEqual([]);
  const found = await check();
  expect(found.intact).toBe(false);
  expect(found.words).toContain('line 2 is not what it was on');
});
