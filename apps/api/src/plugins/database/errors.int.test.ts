import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';
import type { Tx } from './database.ts';
import { databaseFault } from './errors.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const faultOf = (failing: Promise<unknown>) => failing.then(() => undefined, databaseFault);
type Fault = { sqlState: string; constraint: string | undefined };
const BROKEN: [string, string, Partial<Fault>][] = [
  ['a unique key', `INSERT INTO studio_counter SELECT studio_id, name, value FROM studio_counter`, { sqlState: '23505' }],
  ['a check', `UPDATE account SET role = 'wizard'`, { sqlState: '23514' }],
  ['a missing grant', `DELETE FROM audit`, { sqlState: '42501' }],
  ['another studio’s row', `INSERT INTO studio_counter VALUES ('${newId()}', 'x', 1)`, { sqlState: '42501' }],
];

test.each(BROKEN)('%s broken through either door gives the same SQLSTATE', async (_what, sql, wanted) => {
  const { db } = studio.app;
  await db.transact(studio.studioId, (tx) => tx.rows(`INSERT INTO studio_counter VALUES ($1::uuid, 'once', 1) ON CONFLICT DO NOTHING`, [studio.studioId]));
  const work = (tx: Tx) => tx.rows(sql);
  expect(await faultOf(db.transact(studio.studioId, work))).toMatchObject(wanted);
  expect(await faultOf(db.transactOrm(studio.studioId, work))).toMatchObject(wanted);
});

test('a name taken already is a 409 through both doors, never a 500', async () => {
  const station = { name: 'Bench', scaleStep: '1 g', scaleCapacity: '5 kg', mouldName: 'Loaf', mouldVolumeMl: '1000' };
  const person = { name: 'Eve', email: 'eve@example.org', role: 'assistant', password: 'four quiet green kettles' };
  for (const [url, body] of [
    ['/api/stations', station],
    ['/api/people', person],
  ] as const) {
    expect((await studio.as.owner.post(url, { id: newId(), ...body })).statusCode).toBe(200);
    expect((await studio.as.owner.post(url, { id: newId(), ...body })).json(), url).toMatchObject({ status: 409, code: 'already-exists' });
  }
});
