import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { freePort } from './database/cluster-state.ts';
import { startOf } from './database/process-identity.ts';
import { inRepository } from './paths.ts';
import { writeLaunchState } from './start/launch-state.ts';

// A stand-in for the service, so that these tests are about the launcher alone. It writes down what it was given and when it was told to stop.
const STAND_IN = `
import { appendFileSync, existsSync } from 'node:fs';
import { createServer } from 'node:http';
const note = (line) => appendFileSync(process.env.DATA_DIR + '/notes', line + '\\n');
note('owner url ' + (process.env.DATABASE_URL ?? 'not given') + ', role ' + new URL(process.env.DATABASE_APP_URL).username + ', code ' + process.env.SETUP_CODE);
createServer((request, response) => (request.url === '/die' ? process.exit(3) : response.end('ready'))).listen(Number(process.env.PORT), process.env.HOST);
process.on('SIGTERM', () => { note('told to stop while the database ' + (existsSync(process.env.DATA_DIR + '/postgres/postmaster.pid') ? 'ran' : 'was gone')); process.exit(0); });
`;

let dataDir: string;
let port: number;
let started: ChildProcess[] = [];

beforeEach(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'ashwater-launch-'));
  chmodSync(dataDir, 0o755);
  writeLaunchState(dataDir, { demo: false });
  writeFileSync(join(dataDir, 'stand-in.mjs'), STAND_IN);
  port = await freePort(0);
  started = [];
});
afterEach(async () => {
  for (const child of started) {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill('SIGTERM');
      await once(child, 'exit');
    }
  }
  rmSync(dataDir, { recursive: true, force: true });
});

/** Starts the launcher and waits until it says it is ready, or ends. */
async function launch(): Promise<{ child: ChildProcess; text(): string }> {
  const env: NodeJS.ProcessEnv = {
    ...process.env,
    ASHWATER_DATA_DIR: dataDir,
    ASHWATER_SERVER_ENTRY: join(dataDir, 'stand-in.mjs'),
    PORT: String(port),
    HOST: '127.0.0.1',
  };
  for (const name of ['DATABASE_URL', 'DATABASE_APP_URL', 'PUBLIC_ORIGIN', 'SETUP_CODE']) delete env[name];
  const child = spawn(process.execPath, [inRepository('infra', 'start.ts')], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  started.push(child);
  let output = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (output += chunk.toString()));
  while (child.exitCode === null && !output.includes('Stop:')) await sleep(50);
  return { child, text: () => output };
}

async function endOf(child: ChildProcess): Promise<number | null> {
  if (child.exitCode === null) await once(child, 'exit');
  return child.exitCode;
}

const notes = (): string => readFileSync(join(dataDir, 'notes'), 'utf8');

test('it starts, gives the service the application role only, and stops the service before the database', { timeout: 60_000 }, async () => {
  const { child, text } = await launch();
  expect(text()).toContain(`Ashwater is ready:  http://127.0.0.1:${port}`);
  const code = /give this code:\s+(\S+)/.exec(text())?.[1];
  expect(notes()).toContain(`owner url not given, role ashwater_app, code ${code}`);
  child.kill('SIGINT');
  expect(await endOf(child)).toBe(0);
  expect(notes()).toContain('told to stop while the database ran');
  expect(existsSync(join(dataDir, 'postgres', 'postmaster.pid'))).toBe(false);
});

test('a second launcher on the same folder is refused and does not disturb the first', { timeout: 60_000 }, async () => {
  const first = await launch();
  const second = await launch();
  expect(await endOf(second.child)).toBe(1);
  expect(second.text()).toContain(`Process ${first.child.pid} already uses the data folder ${dataDir}`);
  expect((await fetch(`http://127.0.0.1:${port}/readyz`)).status).toBe(200);
});

test('a service that dies is reported, and the database is stopped', { timeout: 60_000 }, async () => {
  const { child, text } = await launch();
  await fetch(`http://127.0.0.1:${port}/die`).catch(() => undefined);
  expect(await endOf(child)).toBe(1);
  expect(text()).toContain('The server ended by itself (exit code 3)');
  expect(existsSync(join(dataDir, 'postgres', 'postmaster.pid'))).toBe(false);
});

test('after a launcher was killed, the next one stops the service it left and takes its port again', { timeout: 60_000 }, async () => {
  const killed = await launch();
  const { pid } = JSON.parse(readFileSync(join(dataDir, 'server.json'), 'utf8')) as { pid: number };
  killed.child.kill('SIGKILL');
  await once(killed.child, 'exit');
  expect(startOf(pid)).toBeDefined();
  const next = await launch();
  expect(next.text()).toContain('left over from a killed start was stopped');
  expect(next.text()).toContain(`Ashwater is ready:  http://127.0.0.1:${port}`);
  expect(startOf(pid)).toBeUndefined();
});
