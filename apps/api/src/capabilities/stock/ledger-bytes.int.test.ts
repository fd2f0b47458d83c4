import { createHash } from 'node:crypto';
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

/*
 * A row in binary after the PostgreSQL manual, "COPY, Binary Format", and its record type: the number of columns, then for each its type
 * (object ids of pg_type.dat), its length or -1 for none, and its bytes; integers big-endian, times in microseconds since 2000-01-01.
 * (Read in the manual; the order of type and length in a record from memory.)
 */
const TYPE = { int2: 21, int8: 20, uuid: 2950, timestamptz: 1184, bytea: 17 };
type Cell = [keyof typeof TYPE, Buffer | null];
const int32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeInt32BE(value);
  return bytes;
};
const int8 = (value: bigint): Buffer => {
  const bytes = Buffer.alloc(8);
  bytes.writeBigInt64BE(value);
  return bytes;
};
const uuid = (id: string | null): Cell => ['uuid', id === null ? null : Buffer.from(id.replaceAll('-', ''), 'hex')];
const whole = (value: string | null): Cell => ['int8', value === null ? null : int8(BigInt(value))];
const words = (value: string): Cell => ['bytea', Buffer.from(value, 'utf8')];
const inBinary = (cells: Cell[]): Buffer =>
  Buffer.concat([int32(cells.length), ...cells.flatMap(([type, bytes]) => [int32(TYPE[type]), int32(bytes?.length ?? -1), bytes ?? Buffer.alloc(0)])]);

type Row = Record<'studio_id' | 'seq' | 'id' | 'kind' | 'lot_id' | 'from_place' | 'to_place' | 'mass_mg' | 'scale_step_mg' | 'account_id' | 'reason', string> &
  Record<'subject_id' | 'scale_id' | 'reverses_seq' | 'request_id', string | null> & { at: Date; previous_hash: Buffer; hash: Buffer; bytes: Buffer };
const bytesOf = (row: Row): Buffer =>
  inBinary([
    ['int2', Buffer.from([0, 2])],
    uuid(row.studio_id),
    whole(row.seq),
    uuid(row.id),
    ['timestamptz', int8(BigInt(row.at.getTime() - Date.UTC(2000, 0, 1)) * 1000n)],
    words(row.kind),
    uuid(row.lot_id),
    words(row.from_place),
    words(row.to_place),
    whole(row.mass_mg),
    whole(row.scale_step_mg),
    uuid(row.account_id),
    uuid(row.subject_id),
    words(row.reason),
    ['bytea', row.previous_hash],
    uuid(row.scale_id),
    whole(row.reverses_seq),
    uuid(row.request_id),
  ]);
const lines = async (as: string): Promise<Row[]> => {
  const { rows } = await studio.admin.query<Row>(`SELECT line.*, ledger_memento(line) AS bytes FROM (SELECT (${as}).* FROM ledger_line l) AS line`);
  expect(rows.length).toBeGreaterThanOrEqual(4);
  return rows;
};

test('every line carries the SHA-256 of its row in binary', async () => {
  for (const row of await lines('l')) expect(row.hash.toString('hex')).toBe(createHash('sha256').update(bytesOf(row)).digest('hex'));
});

test.each([
  ['with words in its reason', `jsonb_populate_record(l, '{"reason": "zu viel: 5 € „ß“ 𝄞"}')`],
  ['with a subject left out', `jsonb_populate_record(l, '{"subject_id": null}')`],
  [
    'with a scale, a mirrored line and a request',
    `jsonb_populate_record(l, jsonb_build_object('scale_id', gen_random_uuid(), 'reverses_seq', 12, 'request_id', l.id))`,
  ],
])('the hashed bytes of a line %s are the row in binary', async (_, as) => {
  for (const row of await lines(as)) expect(row.bytes.toString('hex')).toBe(bytesOf(row).toString('hex'));
});

test('a line of the first form keeps its bytes: every part as text, preceded by its length', async () => {
  for (const row of await lines(`jsonb_populate_record(l, '{"hash_form": 1, "reason": "5 € „ß“"}')`)) {
    const parts = [row.studio_id, row.seq, row.id, String(row.at.getTime()), row.kind, row.lot_id, row.from_place, row.to_place, row.mass_mg];
    parts.push(row.scale_step_mg, row.account_id);
    const text = [...parts, row.subject_id, row.reason, row.previous_hash.toString('hex')].map((part) => `${part?.length ?? '-'}:${part ?? ''}`).join('|');
    expect(row.bytes.toString('utf8')).toBe(text);
  }
});

test('what is hashed does not depend on the encoding or the time zone of whoever is connected', async () => {
  const withWords = `jsonb_populate_record(l, '{"reason": "\\u00e4\\u00df"}')`;
  const bytes = async () => (await lines(withWords)).map((row) => row.bytes.toString('hex'));
  const before = await bytes();
  await studio.admin.query(`SET client_encoding = 'LATIN1'; SET timezone = 'Asia/Kolkata'`);
  const after = await bytes();
  await studio.admin.query('RESET client_encoding; RESET timezone');
  expect(after).toEqual(before);
});

test('nobody can write a line in the first form, nor give a line of it what that form leaves out', async () => {
  const before = await lines('l');
  await studio.admin.query(`SET session_replication_role = replica`);
  await expect(studio.admin.query(`UPDATE ledger_line SET hash_form = 1, request_id = id WHERE seq = 1`)).rejects.toMatchObject({ code: '23514' });
  await studio.admin.query(`SET session_replication_role = origin`);
  await studio.admin.query(
    `INSERT INTO ledger_line SELECT (jsonb_populate_record(l, jsonb_build_object('id', gen_random_uuid(), 'hash_form', 1))).* FROM ledger_line l WHERE seq = 1`,
  );
  const { rows } = await studio.admin.query<{ hash_form: number }>('SELECT hash_form FROM ledger_line ORDER BY seq DESC LIMIT 1');
  expect(rows[0]!.hash_form).toBe(2);
  expect((await lines('l')).length).toBe(before.length + 1);
});
