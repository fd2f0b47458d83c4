import { chmodSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { GenericContainer, getContainerRuntimeClient } from 'testcontainers';
import { canConnect } from '../database/client.ts';
import { stopServer } from '../database/cluster.ts';
import { readState } from '../database/cluster-state.ts';
import { startEmbedded } from '../database/embedded.ts';
import { startOf } from '../database/process-identity.ts';

/** A PostgreSQL server for one test run; `url` belongs to a role that may make databases and roles. */
export interface TestServer {
  url: string;
  kind: string;
  stop(): Promise<void>;
}

const FOLDER_PREFIX = 'ashwater-test-server-';
const PASSWORD = 'only-for-tests';

/** Finds a server: TEST_DATABASE_URL, else PostgreSQL 15 in a container, else the embedded one in a temporary folder. */
export async function startTestServer(): Promise<TestServer> {
  const given = process.env.TEST_DATABASE_URL ?? '';
  if (given !== '') return { url: given, kind: 'TEST_DATABASE_URL', stop: async () => undefined };
  if (await dockerAnswers()) {
    try {
      return await startContainer();
    } catch (error) {
      process.stderr.write(`No PostgreSQL container (${error instanceof Error ? error.message : String(error)}): using the embedded server.\n`);
    }
  }
  return await startTemporary();
}

async function dockerAnswers(): Promise<boolean> {
  const sockets = ['/var/run/docker.sock', join(homedir(), '.docker/run/docker.sock'), join(process.env.XDG_RUNTIME_DIR ?? '', 'docker.sock')];
  if ((process.env.DOCKER_HOST ?? '') === '' && !sockets.some((socket) => existsSync(socket))) return false;
  try {
    await getContainerRuntimeClient();
    return true;
  } catch {
    return false;
  }
}

async function startContainer(): Promise<TestServer> {
  const container = await new GenericContainer('postgres:15')
    .withEnvironment({ POSTGRES_USER: 'test', POSTGRES_PASSWORD: PASSWORD, POSTGRES_DB: 'test' })
    .withExposedPorts(5432)
    .withStartupTimeout(120_000)
    .start();
  const stop = async (): Promise<void> => {
    await container.stop();
  };
  const url = `postgresql://test:${PASSWORD}@${container.getHost()}:${container.getMappedPort(5432)}/test`;
  // The port can be open before PostgreSQL behind it accepts anybody.
  for (const deadline = Date.now() + 60_000; !(await canConnect(url)); await sleep(200)) {
    if (Date.now() < deadline) continue;
    await stop();
    throw new Error('PostgreSQL in the container did not answer within a minute');
  }
  return { url, kind: 'container', stop };
}

async function startTemporary(): Promise<TestServer> {
  await removeAbandoned();
  const dataDir = mkdtempSync(join(tmpdir(), `${FOLDER_PREFIX}${process.pid}-`));
  // mkdtemp closes the folder to others, and PostgreSQL may have to run as another user.
  chmodSync(dataDir, 0o755);
  // Nothing here must survive a power cut, so nothing waits for the disk.
  const server = await startEmbedded(dataDir, 'test', ['fsync=off', 'synchronous_commit=off', 'full_page_writes=off', 'max_connections=200']);
  const stop = async (): Promise<void> => {
    await server.stop();
    rmSync(dataDir, { recursive: true, force: true });
  };
  return { url: server.adminUrl, kind: 'embedded', stop };
}

// A test run that was killed leaves its server running: the next run cleans up.
async function removeAbandoned(): Promise<void> {
  for (const name of readdirSync(tmpdir()).filter((entry) => entry.startsWith(FOLDER_PREFIX))) {
    const pid = Number(name.slice(FOLDER_PREFIX.length).split('-')[0]);
    if (startOf(pid) !== undefined) continue;
    const dataDir = join(tmpdir(), name);
    const folder = readState(join(dataDir, 'postgres.json'))?.folder;
    if (folder !== undefined) await stopServer({ folder });
    rmSync(dataDir, { recursive: true, force: true });
  }
}
