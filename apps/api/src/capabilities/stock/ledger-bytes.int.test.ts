import { afterAll, beforeAll, expect, test } from 'vitest';
import { bareClass } from '../../testing/bare-class.ts';
import { bringBack, handedOut, receive } from '../../testing/stock-steps.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
  const { classId } = await bareClass(studio, { title: 'Größe “ß”, 5 €' });
  const { containerIds } = await receive(studio.as.manager, ['Ü-1']);
  await bringBack(studio.as.manager, await handedOut(studio.as.manager, containerIds[0]!, classId, '300'), '100.5');
});
afterAll(() => studio.close());

// Lines written before the function was written out anew must keep their hash: the bytes are those of the slow, plain function.
test.each([
  ['as it stands', 'l'],
  ['with words in its reason', `jsonb_populate_record(l, '{"reason": "zu viel: 5 € „ß“ 𝄞"}')`],
  ['with a subject left out', `jsonb_populate_record(l, '{"subject_id": null}')`],
  [
    'with a scale, a mirrored line and a request',
    `jsonb_populate_record(l, jsonb_build_object('scale_id', gen_random_uuid(), 'reverses_seq', 12, 'request_id', l.id))`,
  ],
  ['with a scale alone', `jsonb_populate_record(l, jsonb_build_object('scale_id', l.id))`],
])('the hashed bytes of a line %s are its parts, each preceded by its length', async (_, row) => {
  const { rows } = await studio.admin.query<{ bytes: Buffer; plain: Buffer }>(
    `SELECT ledger_memento(line) AS bytes, CASE WHEN num_nonnulls(scale_id, reverses_seq, request_id) = 0 THEN
       chain_memento(studio_id::text, seq::text, id::text, (extract(epoch FROM at) * 1000)::bigint::text, kind, lot_id::text, from_place, to_place,
         mass_mg::text, scale_step_mg::text, account_id::text, subject_id::text, reason, encode(previous_hash, 'hex'))
     ELSE chain_memento(studio_id::text, seq::text, id::text, (extract(epoch FROM at) * 1000)::bigint::text, kind, lot_id::text, from_place, to_place,
         mass_mg::text, scale_step_mg::text, account_id::text, subject_id::text, reason, encode(previous_hash, 'hex'),
         scale_id::text, reverses_seq::text, request_id::text) END AS plain
     FROM (SELECT (${row}).* FROM ledger_line l) AS line`,
  );
  expect(rows.length).toBeGreaterThanOrEqual(4);
  for (const { bytes, plain } of rows) expect(bytes.toString('utf8')).toBe(plain.toString('utf8'));
});
