import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { freePort } from '../../infra/database/cluster-state.ts';
import { endProcess } from '../../infra/database/process-identity.ts';
import { inRepository } from '../../infra/paths.ts';
import { writeLaunchState } from '../../infra/start/launch-state.ts';

const PATIENCE_MS = 120_000;
export type OwnService = { address: string; killAndRestart(afterMs: number): Promise<void>; stop(): Promise<void> };

/** A demo service of the bench's own whose API can be killed without warning and started again on the same data and port. */
export async function ownService(): Promise<OwnService> {
  const dataDir = mkdtempSync(join(tmpdir(), 'ashwater-bench-'));
  chmodSync(dataDir, 0o755);
  writeLaunchState(dataDir, { demo: true });
  const port = await freePort(0);
  const address = `http://127.0.0.1:${port}`;
  const env: NodeJS.ProcessEnv = { ...process.env, ASHWATER_DATA_DIR: dataDir, HOST: '127.0.0.1', PORT: String(port) };
  for (const name of ['DATABASE_URL', 'DATABASE_APP_URL', 'PUBLIC_ORIGIN']) delete env[name];
  let launcher: ChildProcess;
  const launch = async (): Promise<void> => {
    launcher = spawn(process.execPath, [inRepository('infra', 'start.ts')], { env, stdio: 'ignore' });
    for (const deadline = Date.now() + PATIENCE_MS; Date.now() < deadline; await sleep(100)) {
      if (launcher.exitCode !== null) break;
      const ready = await fetch(`${address}/readyz`).catch(() => null);
      if (ready?.ok) return;
    }
    throw new Error('The service did not start.');
  };
  await launch();
  return {
    address,
    killAndRestart: async (afterMs) => {
      await sleep(afterMs);
      const { pid } = JSON.parse(readFileSync(join(dataDir, 'server.json'), 'utf8')) as { pid: number };
      const start = performance.now();
      process.kill(pid, 'SIGKILL');
      while (launcher.exitCode === null) await sleep(50);
      await launch();
      console.log(`API killed after ${afterMs} ms; it and its database were back ${((performance.now() - start) / 1000).toFixed(1)} s later`);
    },
    stop: async () => {
      if (launcher.pid !== undefined) await endProcess(launcher.pid, 'SIGTERM', 30_000);
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}
