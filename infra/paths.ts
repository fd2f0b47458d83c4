import { join, resolve } from 'node:path';

/** Absolute path of the repository, wherever it was cloned. */
export const repositoryRoot = resolve(import.meta.dirname, '..');

/** Absolute path of a file or folder given by its path inside the repository. */
export function inRepository(...parts: string[]): string {
  return join(repositoryRoot, ...parts);
}
