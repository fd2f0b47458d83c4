import { spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, existsSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { freePort } from '../database/cluster-state.ts';
import { endProcess } from '../database/process-identity.ts';
import { inRepository } from '../paths.ts';

const START_PATIENCE_MS = 120_000;

/**
 * Starts what `npm start` starts, with the demo studio, on a data folder and port of its own, and sets ASHWATER_URL.
 * When ASHWATER_URL is set already, the tests run against that service and nothing is started.
 * @returns a function that stops it and removes the folder
 */
export default async function startStack(): Promise<() => Promise<void>> {
  if ((process.env.ASHWATER_URL ?? '') !== '') return async () => undefined;
  const dataDir = mkdtempSync(join(tmpdir(), 'ashwater-e2e-'));
  chmodSync(dataDir, 0o755);
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
    if (address === undefined) continue;
    process.env.ASHWATER_URL = address;
    return stop;
  }
  const serverLog = join(dataDir, 'server.log');
  const log = existsSync(serverLog) ? readFileSync(serverLog, 'utf8').slice(-4000) : '';
  await stop();
  throw new Error(`The service did not start for the browser tests.\n${output}\n${log}`);
}
