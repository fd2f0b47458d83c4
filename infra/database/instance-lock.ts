import { linkSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { isRunning, ownIdentity } from './process-identity.ts';
import type { ProcessIdentity } from './process-identity.ts';

/** Another process works on the data folder. */
export class FolderInUse extends Error {
  override name = 'FolderInUse';
}

const lockFile = (dataDir: string): string => join(dataDir, 'instance.lock');

/** Process number of the running instance that holds the data folder, if any. */
export function lockHolder(dataDir: string): number | undefined {
  const holder = readLock(lockFile(dataDir));
  return holder !== undefined && isRunning(holder) ? holder.pid : undefined;
}

/**
 * Claims a data folder for this process. A claim left behind by a process that was killed is taken over.
 * @returns a function that gives the folder back
 * @throws FolderInUse naming the folder and the process that holds it
 */
export function claimFolder(dataDir: string): () => void {
  mkdirSync(dataDir, { recursive: true });
  const lock = lockFile(dataDir);
  const own = `${lock}.${process.pid}`;
  writeFileSync(own, JSON.stringify(ownIdentity()), { mode: 0o644 });
  try {
    for (let attempt = 0; attempt < 20; attempt += 1) {
      // link() fails when the name exists, so no two processes can succeed, and nobody sees a half-written file.
      if (tryLink(own, lock)) return () => release(lock);
      const pid = lockHolder(dataDir);
      if (pid !== undefined)
        throw new FolderInUse(`Process ${pid} already uses the data folder ${dataDir}. Stop it first, or set ASHWATER_DATA_DIR to another folder.`);
      removeStale(lock, own);
    }
    throw new FolderInUse(`The claim ${lock} of a process that is gone cannot be taken over. Remove that file.`);
  } finally {
    rmSync(own, { force: true });
  }
}

function removeStale(lock: string, own: string): void {
  const aside = `${own}.stale`;
  try {
    renameSync(lock, aside);
  } catch {
    return;
  }
  // Between our look and the rename another process may have taken the folder over: then this is its claim, put it back.
  const moved = readLock(aside);
  if (moved !== undefined && isRunning(moved)) tryLink(aside, lock);
  rmSync(aside, { force: true });
}

function release(lock: string): void {
  if (readLock(lock)?.pid === process.pid) rmSync(lock, { force: true });
}

function tryLink(from: string, to: string): boolean {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false;
    throw error;
  }
}

function readLock(file: string): ProcessIdentity | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(file, 'utf8'));
    if (typeof value !== 'object' || value === null || !('pid' in value) || !('startedAt' in value)) return undefined;
    return typeof value.pid === 'number' && typeof value.startedAt === 'string' ? { pid: value.pid, startedAt: value.startedAt } : undefined;
  } catch {
    return undefined;
  }
}
