import { BenchOut } from '@ashwater/contracts';
import { tryRead } from './api.ts';
import type { Caller } from './api.ts';
import { brings } from './cookies.ts';

/** The join code of today's class at the station this tablet is bound to; null for every other device. */
export async function codeOfBench(event: Caller): Promise<string | null> {
  if (!brings(event, 'ashwater_bench')) return null;
  const bench = await tryRead(event, '/api/bench', BenchOut);
  return bench.ok ? (bench.value.today?.code ?? null) : null;
}
