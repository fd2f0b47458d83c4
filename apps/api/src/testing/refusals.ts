import type { Problem } from '@ashwater/contracts';
import type pg from 'pg';
import { expect } from 'vitest';
import type { Answer } from './test-studio.ts';

/** How many rows each table has. */
export async function rowCounts(admin: pg.Client): Promise<Record<string, number>> {
  const tables = await admin.query<{ name: string }>(
    `SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' ORDER BY 1`,
  );
  const counts = await admin.query<{ name: string; n: number }>(
    tables.rows.map(({ name }) => `SELECT '${name}' AS name, count(*)::int AS n FROM "${name}"`).join(' UNION ALL '),
  );
  return Object.fromEntries(counts.rows.map(({ name, n }) => [name, n]));
}

export type Refusal = { status: number; code: string; pointer?: string; says?: RegExp };
/** Sends what must be refused, and checks status, code, field, sentence, and that nothing was written. */
export async function expectRefused(admin: pg.Client, send: () => Promise<Answer>, wanted: Refusal): Promise<Problem> {
  const before = await rowCounts(admin);
  const answer = await send();
  expect({ status: answer.statusCode, type: answer.headers['content-type'] }, answer.body).toMatchObject({
    status: wanted.status,
    type: expect.stringContaining('application/problem+json'),
  });
  const problem = answer.json<Problem>();
  expect(problem).toMatchObject({ code: wanted.code, status: wanted.status });
  if (wanted.pointer !== undefined)
    expect(
      problem.errors?.map((fault) => fault.pointer),
      JSON.stringify(problem),
    ).toContain(wanted.pointer);
  if (wanted.says) expect(problem.errors?.find((fault) => fault.pointer === wanted.pointer)?.detail ?? problem.detail).toMatch(wanted.says);
  expect(await rowCounts(admin)).toEqual(before);
  return problem;
}
