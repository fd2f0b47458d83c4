import { resolve } from 'node:path';
import { inRepository } from './paths.ts';

/** Absolute path of the folder that holds everything this installation keeps: ASHWATER_DATA_DIR, else .ashwater here. */
export function defaultDataDir(env: NodeJS.ProcessEnv = process.env): string {
  const chosen = env.ASHWATER_DATA_DIR ?? '';
  return chosen === '' ? inRepository('.ashwater') : resolve(chosen);
}
