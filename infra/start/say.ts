import { performance } from 'node:perf_hooks';

/** Prints one line for the person who started the program. */
export function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

/** Runs a step and prints its name with the time it took. */
export async function step<T>(name: string, work: () => Promise<T>): Promise<T> {
  const startedAt = performance.now();
  const result = await work();
  say(`  ${name.padEnd(46)} ${((performance.now() - startedAt) / 1000).toFixed(1).padStart(6)} s`);
  return result;
}
