import { spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, existsSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { freePort, ownerUrl, readState } from '../database/cluster-state.ts';
import { endProcess } from '../database/process-identity.ts';
import { inRepository } from '../paths.ts';
import { writeLaunchState } from '../start/launch-state.ts';
import { leaveServices } from './own-service.ts';
import type { TestedService } from './own-service.ts';

const START_PATIENCE_MS = 120_000;

/** A service of its own for tests: with what it printed, and how to stop it and remove its folder. */
export type TestService = TestedService & { printed: string; stop(): Promise<void> };

/**
 * Before the browser tests: a service with the demo studio for each worker, each with a database of its own. When ASHWATER_URL is
 * set, the tests run against that service, with its database's owner at ASHWATER_TEST_OWNER_URL, and nothing is started.
 */
export default async function startStacks({ workers }: { workers: number }): Promise<() => Promise<void>> {
  const given = process.env.ASHWATER_URL ?? '';
  if (given !== '') {
    leaveServices([{ address: given, databaseUrl: process.env.ASHWATER_TEST_OWNER_URL ?? '' }]);
    return async () => undefined;
  }
  const started = await Promise.allSettled(Array.from({ length: workers }, () => startService({ demo: true })));
  const services = started.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
  const stop = async (): Promise<void> => {
    await Promise.all(services.map((service) => service.stop()));
  };
  const failed = started.find((one) => one.status === 'rejected');
  if (failed) {
    await stop();
    throw failed.reason;
  }
  leaveServices(services);
  return stop;
}

/** Starts what `npm start` starts, on a data folder and port of its own; without the demo it waits to be set up. */
export async function startService(options: { demo: boolean }): Promise<TestService> {
  const dataDir = mkdtempSync(join(tmpdir(), 'ashwater-e2e-'));
  chmodSync(dataDir, 0o755);
  writeLaunchState(dataDir, { demo: options.demo });
  const env: NodeJS.ProcessEnv = { ...process.env, ASHWATER_DATA_DIR: dataDir, HOST: '127.0.0.1', PORT: String(await freePort(0)) };
  for (const name of ['DATABASE_URL', 'DATABASE_APP_URL', 'PUBLIC_ORIGIN']) delete env[name];
  const launcher = spawn(process.execPath, [inRepository('infra', 'start.ts')], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  let output = '';
  for (const stream of [launcher.stdout, launcher.stderr])
    stream.on('data', (chunk: Buffer) => {
      output += chunk.toString();
    });
  const stop = async (): Promise<void> => {
    if (launcher.pid !== undefined) await endProcess(launcher.pid, 'SIGTERM', 30_000);
    rmSync(dataDir, { recursive: true, force: true });
  };
  for (const deadline = Date.now() + START_PATIENCE_MS; launcher.exitCode === null && Date.now() < deadline; await sleep(100)) {
    const address = /Ashwater is ready:\s+(\S+)/.exec(output)?.[1];
    if (address === undefined || !/^Stop:/m.test(output)) continue;
    return { address, printed: output, databaseUrl: ownerUrl(readState(join(dataDir, 'postgres.json'))!, 'ashwater'), stop };
  }
  const serverLog = join(dataDir, 'server.log');
  const log = existsSync(serverLog) ? readFileSync(serverLog, 'utf8').slice(-4000) : '';
  await stop();
  throw new Error(`The service did not start for the browser tests.\n${output}\n${log}`);
}
