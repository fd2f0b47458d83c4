import { execFileSync, spawn } from 'node:child_process';
import { chmodSync, chownSync, closeSync, existsSync, mkdirSync, openSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Binaries } from './binaries.ts';
import { canConnect } from './client.ts';
import { OWNER, freePort, ownerUrl } from './cluster-state.ts';
import type { ClusterState } from './cluster-state.ts';
import { endProcess, startOf } from './process-identity.ts';
import type { SystemUser } from './system-user.ts';

const LOG_LIMIT_BYTES = 5_000_000;
const START_PATIENCE_MS = 60_000;

/** Where a cluster lives and who runs it. */
export interface Cluster {
  binaries: Binaries;
  user: SystemUser;
  folder: string;
  logFile: string;
}

/**
 * Makes a new cluster with UTF-8 text and the C.UTF-8 locale that PostgreSQL brings along, so that sorting is the
 * same on every machine. Does nothing when one exists.
 * @throws Error when the folder holds a cluster of another major version: it is never made anew
 */
export function initialise(cluster: Cluster, password: string): void {
  const versionFile = join(cluster.folder, 'PG_VERSION');
  const major = cluster.binaries.version.split('.')[0];
  if (existsSync(versionFile)) {
    const found = readFileSync(versionFile, 'utf8').trim();
    if (found === major) return;
    throw new Error(
      `${cluster.folder} holds a PostgreSQL ${found} cluster; the programs installed are ${major}. Nothing was changed: install the version that made it, or move the data over with a backup.`,
    );
  }
  // A killed first start leaves half a cluster: initdb goes to a folder of its own and is moved into place when done.
  const half = `${cluster.folder}.making`;
  rmSync(half, { recursive: true, force: true });
  mkdirSync(half, { recursive: true, mode: 0o700 });
  const passwordFile = `${cluster.folder}.password`;
  writeFileSync(passwordFile, `${password}\n`, { mode: 0o600 });
  for (const path of [half, passwordFile]) giveTo(path, cluster.user);
  try {
    execFileSync(
      cluster.binaries.initdb,
      [
        `--pgdata=${half}`,
        `--username=${OWNER}`,
        `--pwfile=${passwordFile}`,
        '--auth=scram-sha-256',
        '--encoding=UTF8',
        '--locale-provider=builtin',
        '--builtin-locale=C.UTF-8',
        '--locale=C',
      ],
      { ...cluster.user, cwd: '/', stdio: 'pipe' },
    );
    renameSync(half, cluster.folder);
  } catch (error) {
    const reason = error instanceof Error && 'stderr' in error ? String(error.stderr) : String(error);
    throw new Error(`PostgreSQL could not make its folder ${cluster.folder}: ${reason.trim()}`, { cause: error });
  } finally {
    rmSync(passwordFile, { force: true });
  }
}

/**
 * Starts the server on the port of the state when it is free, else on another one.
 * @returns the port it listens on, on 127.0.0.1 only
 */
export async function startServer(cluster: Cluster, state: ClusterState, settings: string[]): Promise<number> {
  await stopServer(cluster);
  // A port found free can be taken before PostgreSQL binds it: then its log says so and it ends at once. Try again.
  for (let attempt = 1; ; attempt += 1) {
    const port = await freePort(state.port);
    if (await launch(cluster, { ...state, port }, settings)) return port;
    if (attempt === 3) throw new Error(`PostgreSQL did not start. Its last words:\n${lastWords(cluster.logFile)}`);
  }
}

async function launch(cluster: Cluster, state: ClusterState, settings: string[]): Promise<boolean> {
  if (existsSync(cluster.logFile) && statSync(cluster.logFile).size > LOG_LIMIT_BYTES) renameSync(cluster.logFile, `${cluster.logFile}.1`);
  const log = openSync(cluster.logFile, 'a', 0o600);
  const flags = ['listen_addresses=127.0.0.1', 'unix_socket_directories=', ...settings].flatMap((setting) => ['-c', setting]);
  // Detached: a Ctrl-C in the terminal must reach the API first, not PostgreSQL.
  const child = spawn(cluster.binaries.postgres, ['-D', cluster.folder, '-p', String(state.port), ...flags], {
    ...cluster.user,
    cwd: '/',
    detached: true,
    stdio: ['ignore', log, log],
    env: { ...process.env, LC_ALL: 'C', TZ: 'UTC' },
  });
  closeSync(log);
  child.unref();
  let ended = false;
  child.once('exit', () => {
    ended = true;
  });
  child.once('error', () => {
    ended = true;
  });
  for (const deadline = Date.now() + START_PATIENCE_MS; Date.now() < deadline && !ended;) {
    if (await canConnect(ownerUrl(state, 'postgres'))) return true;
    await sleep(40);
  }
  if (!ended && child.pid !== undefined) await endProcess(child.pid, 'SIGINT', 10_000);
  return false;
}

/** Stops the server of a cluster if one runs, also one that a killed launcher left behind. */
export async function stopServer(cluster: Pick<Cluster, 'folder'>): Promise<void> {
  const pid = serverPid(cluster.folder);
  // SIGINT is PostgreSQL's "fast" shutdown: it ends sessions, writes everything, and leaves.
  if (pid !== undefined) await endProcess(pid, 'SIGINT', 30_000);
}

/** Ends the server of a cluster at once ("immediate" shutdown): nothing committed is lost, the next start recovers. */
export function killServer(cluster: Pick<Cluster, 'folder'>): void {
  const pid = serverPid(cluster.folder);
  if (pid !== undefined) process.kill(pid, 'SIGQUIT');
}

function serverPid(folder: string): number | undefined {
  const pidFile = join(folder, 'postmaster.pid');
  if (!existsSync(pidFile)) return undefined;
  const pid = Number(readFileSync(pidFile, 'utf8').split('\n')[0]);
  return Number.isInteger(pid) && startOf(pid) !== undefined && isPostgres(pid) ? pid : undefined;
}

// After a restart of the machine the number in postmaster.pid may belong to a program that is none of our business.
function isPostgres(pid: number): boolean {
  try {
    return execFileSync('ps', ['-o', 'args=', '-p', String(pid)], { encoding: 'utf8' }).includes('postgres');
  } catch {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('postgres');
    } catch {
      return false;
    }
  }
}

function giveTo(path: string, user: SystemUser): void {
  if (user.uid !== undefined && user.gid !== undefined) chownSync(path, user.uid, user.gid);
  chmodSync(path, statSync(path).isDirectory() ? 0o700 : 0o600);
}

function lastWords(file: string): string {
  return existsSync(file) ? readFileSync(file, 'utf8').split('\n').slice(-12).join('\n').trim() : '(no log)';
}
