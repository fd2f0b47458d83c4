import { createHash } from 'node:crypto';
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { REACHABLE_ROOT, findBinaries } from './binaries.ts';
import { withClient } from './client.ts';
import { initialise, killServer, startServer, stopServer } from './cluster.ts';
import { newState, ownerUrl, readState, writeState } from './cluster-state.ts';
import { canEnter, postgresUser } from './system-user.ts';
import type { SystemUser } from './system-user.ts';

/** A running embedded server. */
export interface EmbeddedServer {
  adminUrl: string;
  folder: string;
  stop(): Promise<void>;
  kill(): void;
}

/**
 * Starts the PostgreSQL server that belongs to a data folder, making it first if needed. The caller holds the folder's claim.
 * @param settings extra server settings, as `name=value`
 * @throws Error saying what to do when the programs do not run, or the cluster is of another version
 */
export async function startEmbedded(dataDir: string, database: string, settings: string[] = []): Promise<EmbeddedServer> {
  const user = postgresUser();
  const binaries = findBinaries(user, dataDir);
  const stateFile = join(dataDir, 'postgres.json');
  const known = readState(stateFile);
  const state = known ?? newState(clusterFolder(dataDir, user));
  // Without the state the password is lost, but the data is not: never write a new cluster over it.
  if (known === undefined && existsSync(state.folder))
    throw new Error(`${state.folder} holds data, but ${stateFile} with its password is missing. Nothing was changed: put the file back from a backup.`);
  if (known !== undefined && !existsSync(state.folder) && state.port !== 0)
    throw new Error(`${stateFile} names ${state.folder}, which is missing. Nothing was changed: put the folder back, or use an empty data folder.`);
  if (known === undefined) writeState(stateFile, state);
  const cluster = { binaries, user, folder: state.folder, logFile: join(dataDir, 'postgres.log') };
  initialise(cluster, state.password);
  const port = await startServer(cluster, state, settings);
  const running = { ...state, port };
  if (port !== state.port) writeState(stateFile, running);
  await ensureDatabase(ownerUrl(running, 'postgres'), database);
  return { adminUrl: ownerUrl(running, database), folder: state.folder, stop: () => stopServer(cluster), kill: () => killServer(cluster) };
}

function clusterFolder(dataDir: string, user: SystemUser): string {
  if (user.uid === undefined || canEnter(dataDir, user)) return join(dataDir, 'postgres');
  // Only root gets here: the data folder lies in a home that the postgres user cannot enter.
  const name = createHash('sha256').update(dataDir).digest('hex').slice(0, 12);
  mkdirSync(REACHABLE_ROOT, { recursive: true, mode: 0o755 });
  return join(REACHABLE_ROOT, `cluster-${name}`);
}

async function ensureDatabase(serverUrl: string, database: string): Promise<void> {
  await withClient(serverUrl, async (client) => {
    const { rowCount } = await client.query('select from pg_database where datname = $1', [database]);
    if (rowCount === 0) await client.query(`create database ${client.escapeIdentifier(database)}`);
  });
}
