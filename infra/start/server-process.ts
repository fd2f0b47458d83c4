import { spawn } from 'node:child_process';
import { closeSync, existsSync, openSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { endProcess, isRunning, startOf } from '../database/process-identity.ts';
import type { ProcessIdentity } from '../database/process-identity.ts';

const LOG_LIMIT_BYTES = 20_000_000;
const READY_PATIENCE_MS = 30_000;
const STOP_PATIENCE_MS = 12_000;

/** The running API and pages. */
export interface ServerProcess {
  /** Settles when the process has ended, with its exit code or signal. */
  ended: Promise<string>;
  stop(): Promise<void>;
  kill(): void;
}

/**
 * Starts the server and waits until it can serve.
 * @param options.entry absolute path of the server's first file
 * @param options.env the whole environment it gets
 * @throws Error with its last words when it ends or is not ready within half a minute
 */
export async function startServerProcess(options: { entry: string; env: NodeJS.ProcessEnv; dataDir: string; readyUrl: string }): Promise<ServerProcess> {
  const logFile = join(options.dataDir, 'server.log');
  if (existsSync(logFile) && statSync(logFile).size > LOG_LIMIT_BYTES) renameSync(logFile, `${logFile}.1`);
  const log = openSync(logFile, 'a', 0o600);
  // Detached, so that Ctrl-C reaches only the launcher, which then stops things in order.
  const child = spawn(process.execPath, [options.entry], { env: options.env, detached: true, stdio: ['ignore', log, log] });
  closeSync(log);
  const ended = new Promise<string>((resolve) => {
    child.once('exit', (code, signal) => resolve(signal ?? `exit code ${code ?? '?'}`));
    child.once('error', (error) => resolve(error.message));
  });
  const { pid } = child;
  if (pid !== undefined) rememberServer(options.dataDir, pid);
  const kill = (): void => void child.kill('SIGKILL');
  const stop = async (): Promise<void> => {
    if (pid !== undefined) await endProcess(pid, 'SIGTERM', STOP_PATIENCE_MS);
    rmSync(serverFile(options.dataDir), { force: true });
  };
  const outcome = await Promise.race([ended, ready(options.readyUrl)]);
  if (outcome === true) return { ended, stop, kill };
  await stop();
  const reason = outcome === false ? 'was not ready within half a minute' : `ended (${outcome})`;
  throw new Error(`The server ${reason}. The end of ${logFile}:\n${lastLines(logFile)}`);
}

async function ready(url: string): Promise<boolean> {
  for (const deadline = Date.now() + READY_PATIENCE_MS; Date.now() < deadline; await sleep(60)) {
    const answer = await fetch(url, { signal: AbortSignal.timeout(2000) }).catch(() => undefined);
    if (answer?.ok === true) return true;
  }
  return false;
}

/** Stops a server that a killed launcher left running: it would hold the port and write to the database. */
export async function stopLeftOverServer(dataDir: string): Promise<boolean> {
  const file = serverFile(dataDir);
  if (!existsSync(file)) return false;
  const identity = JSON.parse(readFileSync(file, 'utf8')) as ProcessIdentity;
  const running = isRunning(identity);
  if (running) await endProcess(identity.pid, 'SIGTERM', STOP_PATIENCE_MS);
  rmSync(file, { force: true });
  return running;
}

const serverFile = (dataDir: string): string => join(dataDir, 'server.json');

function rememberServer(dataDir: string, pid: number): void {
  writeFileSync(serverFile(dataDir), JSON.stringify({ pid, startedAt: startOf(pid) ?? '' }));
}

/** The end of a log file, for an error message. */
export function lastLines(file: string): string {
  return existsSync(file) ? readFileSync(file, 'utf8').trimEnd().split('\n').slice(-15).join('\n') : '(no log)';
}
