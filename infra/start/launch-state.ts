import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What the launcher remembers between starts. */
export interface LaunchState {
  /** An empty database is filled with the demo studio. Off after `npm run empty-demo`. */
  demo: boolean;
}

const fileIn = (dataDir: string): string => join(dataDir, 'state.json');

/** Reads state.json of a data folder; the defaults when there is none. */
export function readLaunchState(dataDir: string): LaunchState {
  const file = fileIn(dataDir);
  if (!existsSync(file)) return { demo: true };
  const value: unknown = JSON.parse(readFileSync(file, 'utf8'));
  const demo = typeof value === 'object' && value !== null && 'demo' in value ? value.demo : true;
  return { demo: demo !== false };
}

/** Writes state.json in one step. */
export function writeLaunchState(dataDir: string, state: LaunchState): void {
  writeFileSync(`${fileIn(dataDir)}.new`, `${JSON.stringify(state, undefined, 2)}\n`);
  renameSync(`${fileIn(dataDir)}.new`, fileIn(dataDir));
}
